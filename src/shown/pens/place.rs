//! Where labels go: rectangles, pushing apart along a line, finding a free spot.

/// A point of the picture in pixels, down from the top left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Px {
    pub(crate) x: f64,
    pub(crate) y: f64,
}

impl Px {
    pub(crate) const fn new(x: f64, y: f64) -> Self {
        Self { x, y }
    }

    pub(crate) fn shifted(self, right: f64, down: f64) -> Self {
        Self::new(self.x + right, self.y + down)
    }

    pub(crate) fn distance(self, other: Self) -> f64 {
        (self.x - other.x).hypot(self.y - other.y)
    }
}

/// A rectangle of the picture in pixels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Rect {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Rect {
    pub(crate) const fn new(left: f64, top: f64, right: f64, bottom: f64) -> Self {
        Self {
            left,
            top,
            right,
            bottom,
        }
    }

    /// The rectangle of a width and height about a centre.
    pub(crate) fn about(centre: Px, width: f64, height: f64) -> Self {
        Self::new(
            centre.x - width / 2.0,
            centre.y - height / 2.0,
            centre.x + width / 2.0,
            centre.y + height / 2.0,
        )
    }

    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn centre(&self) -> Px {
        Px::new(
            f64::midpoint(self.left, self.right),
            f64::midpoint(self.top, self.bottom),
        )
    }

    pub(crate) fn grown(&self, by: f64) -> Self {
        Self::new(
            self.left - by,
            self.top - by,
            self.right + by,
            self.bottom + by,
        )
    }

    pub(crate) fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    pub(crate) fn holds(&self, point: Px) -> bool {
        (self.left..=self.right).contains(&point.x) && (self.top..=self.bottom).contains(&point.y)
    }

    /// The point of the rectangle that is nearest to a point.
    pub(crate) fn nearest_to(&self, point: Px) -> Px {
        Px::new(
            point.x.clamp(self.left, self.right),
            point.y.clamp(self.top, self.bottom),
        )
    }

    pub(crate) fn within(&self, outer: &Self) -> bool {
        self.left >= outer.left
            && self.right <= outer.right
            && self.top >= outer.top
            && self.bottom <= outer.bottom
    }

    pub(crate) fn corners(&self) -> [Px; 4] {
        [
            Px::new(self.left, self.top),
            Px::new(self.right, self.top),
            Px::new(self.right, self.bottom),
            Px::new(self.left, self.bottom),
        ]
    }
}

/// Something wanted at a place along a line, with the length it takes there.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Wanted {
    pub(crate) centre: f64,
    pub(crate) length: f64,
}

/// Centres as near to the wanted ones as can be (least squares) with no overlap, in the same
/// order, inside `low..high`; `None` where they do not fit.
///
/// With the lengths of those before taken off, "no overlap" reads "rising": a monotone
/// regression, done by pooling neighbours that are out of order, then held inside the ends.
pub(crate) fn pushed_apart(wanted: &[Wanted], low: f64, high: f64) -> Option<Vec<f64>> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by(|a, b| {
        let centre = |index: &usize| wanted.get(*index).map_or(0.0, |want| want.centre);
        centre(a).total_cmp(&centre(b))
    });
    let sorted: Vec<Wanted> = order
        .iter()
        .filter_map(|index| wanted.get(*index).copied())
        .collect();
    let total: f64 = sorted.iter().map(|want| want.length).sum();
    if total > high - low {
        return None;
    }

    let mut offsets = Vec::with_capacity(sorted.len());
    let mut used = 0.0;
    // Blocks of (sum of wanted starts, count).
    let mut blocks: Vec<(f64, f64)> = Vec::new();
    for want in &sorted {
        let offset = used + want.length / 2.0;
        used += want.length;
        offsets.push(offset);
        let mut block = (want.centre - offset, 1.0);
        while let Some(before) = blocks.pop_if(|before| before.0 / before.1 > block.0 / block.1) {
            block = (block.0 + before.0, block.1 + before.1);
        }
        blocks.push(block);
    }

    let mut centres = vec![0.0; wanted.len()];
    let mut places = order.iter().zip(&offsets);
    for (sum, count) in blocks {
        let start = (sum / count).clamp(low, (high - total).max(low));
        let mut left = count;
        while left > 0.0 {
            left -= 1.0;
            if let Some((index, offset)) = places.next()
                && let Some(centre) = centres.get_mut(*index)
            {
                *centre = start + offset;
            }
        }
    }
    Some(centres)
}

/// Keeps count of the ground that is taken and finds room for labels.
#[derive(Debug)]
pub(crate) struct Room {
    bounds: Rect,
    taken: Vec<Rect>,
    busy: Vec<Px>,
}

/// How far from its point a label may be tried, in pixels.
const REACHES_PX: [f64; 5] = [9.0, 20.0, 34.0, 52.0, 75.0];

/// Directions a label is tried in, the ones that read best first.
const DIRECTIONS: [(f64, f64); 8] = [
    (0.0, -1.0),
    (1.0, -0.8),
    (1.0, 0.0),
    (1.0, 0.8),
    (0.0, 1.0),
    (-1.0, -0.8),
    (-1.0, 0.0),
    (-1.0, 0.8),
];

/// What covering one sampled point of a line costs, against a rank in the list of trials.
const BUSY_COST: f64 = 5.0;

/// What it costs that a leader line crosses another label or mark.
const CROSSING_COST: f64 = 40.0;

/// What each pixel outward costs.
const REACH_COST: f64 = 0.3;

/// Step of the search over all the ground.
const SEARCH_STEP_PX: f64 = 5.0;

impl Room {
    pub(crate) fn new(bounds: Rect) -> Self {
        Self {
            bounds,
            taken: Vec::new(),
            busy: Vec::new(),
        }
    }

    /// No label may lie here.
    pub(crate) fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// Labels had better not lie on these.
    pub(crate) fn avoid(&mut self, points: impl IntoIterator<Item = Px>) {
        self.busy.extend(points);
    }

    pub(crate) fn is_free(&self, rect: &Rect) -> bool {
        rect.within(&self.bounds) && !self.taken.iter().any(|taken| taken.overlaps(rect))
    }

    /// Takes the free rectangle that covers least among those offered, the earlier the better.
    pub(crate) fn quietest(&mut self, offered: impl IntoIterator<Item = Rect>) -> Option<Rect> {
        let ranks = std::iter::successors(Some(0.0), |rank| Some(rank + 0.25));
        let (_, rect) = offered
            .into_iter()
            .zip(ranks)
            .filter(|(rect, _)| self.is_free(rect))
            .map(|(rect, rank)| (rank + self.cost(&rect), rect))
            .min_by(|one, two| one.0.total_cmp(&two.0))?;
        self.take(rect);
        Some(rect)
    }

    /// What it costs to cover the busy points in a rectangle.
    fn cost(&self, rect: &Rect) -> f64 {
        let zone = rect.grown(1.0);
        let covered = self.busy.iter().filter(|busy| zone.holds(**busy)).count();
        BUSY_COST * f64::from(u32::try_from(covered).unwrap_or(u32::MAX))
    }

    /// Takes the best free rectangle of a size near a point, the nearest free one if all else
    /// fails.
    pub(crate) fn near(&mut self, point: Px, width: f64, height: f64) -> Option<Rect> {
        let close = REACHES_PX.into_iter().flat_map(|reach| {
            DIRECTIONS.into_iter().map(move |(right, down)| {
                let centre =
                    point.shifted(right * (reach + width / 2.0), down * (reach + height / 2.0));
                (reach, Rect::about(centre, width, height))
            })
        });
        let ranks = std::iter::successors(Some(0.0), |rank| Some(rank + 0.25));
        let best = close
            .zip(ranks)
            .filter(|((_, rect), _)| self.is_free(rect))
            .map(|((reach, rect), rank)| {
                let way = reach * REACH_COST + self.cost_of_leader(point, &rect);
                (rank + way + self.cost(&rect), rect)
            })
            .min_by(|one, two| one.0.total_cmp(&two.0))
            .map(|(_, rect)| rect);
        let rect = best.or_else(|| self.nearest(point, width, height))?;
        self.take(rect);
        Some(rect)
    }

    /// What it costs that the way from a point to its label leads across other labels.
    fn cost_of_leader(&self, point: Px, rect: &Rect) -> f64 {
        let edge = rect.nearest_to(point);
        let across = [0.2, 0.4, 0.6, 0.8].into_iter().any(|share| {
            let on_the_way = point.shifted((edge.x - point.x) * share, (edge.y - point.y) * share);
            self.taken
                .iter()
                .any(|taken| taken.holds(on_the_way) && !taken.holds(point))
        });
        if across { CROSSING_COST } else { 0.0 }
    }

    fn nearest(&self, point: Px, width: f64, height: f64) -> Option<Rect> {
        let steps = |from: f64, to: f64| {
            std::iter::successors(Some(from), |at| Some(at + SEARCH_STEP_PX))
                .take_while(move |at| *at <= to)
        };
        steps(self.bounds.top, self.bounds.bottom - height)
            .flat_map(|top| {
                steps(self.bounds.left, self.bounds.right - width)
                    .map(move |left| Rect::new(left, top, left + width, top + height))
            })
            .filter(|rect| self.is_free(rect))
            .min_by(|one, two| {
                let away = |rect: &Rect| rect.centre().distance(point);
                away(one).total_cmp(&away(two))
            })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::random_cases::same_every_time;
    use proptest::prelude::*;

    fn wanted(centres: &[f64], length: f64) -> Vec<Wanted> {
        centres
            .iter()
            .map(|&centre| Wanted { centre, length })
            .collect()
    }

    proptest! {
        #![proptest_config(same_every_time(256))]

        #[test]
        fn law_pushed_labels_keep_order_stay_inside_and_never_overlap(
            centres in proptest::collection::vec(-50.0..350.0_f64, 1..13),
            length in 4.0..20.0_f64,
        ) {
            let placed = pushed_apart(&wanted(&centres, length), 0.0, 300.0).unwrap();
            // Sums of a dozen lengths: round-off only.
            let error = 1e-9;
            for (i, a) in placed.iter().enumerate() {
                prop_assert!(a - length / 2.0 >= -error && a + length / 2.0 <= 300.0 + error);
                for (j, b) in placed.iter().enumerate().skip(i + 1) {
                    prop_assert!((a - b).abs() >= length - error);
                    if centres[i] < centres[j] { prop_assert!(a < b); }
                }
            }
        }
    }

    #[test]
    fn law_labels_with_room_stay_where_they_are_wanted() {
        let placed = pushed_apart(&wanted(&[20.0, 60.0, 150.0], 14.0), 0.0, 300.0);
        assert_eq!(placed, Some(vec![20.0, 60.0, 150.0]));
    }

    #[test]
    fn law_two_labels_at_one_place_give_way_alike() {
        let placed = pushed_apart(&wanted(&[100.0, 100.0], 10.0), 0.0, 300.0);
        assert_eq!(placed, Some(vec![95.0, 105.0]));
    }

    #[test]
    fn law_what_does_not_fit_is_not_placed() {
        assert_eq!(pushed_apart(&wanted(&[1.0; 10], 14.0), 0.0, 100.0), None);
        assert_eq!(pushed_apart(&[], 0.0, 100.0), Some(vec![]));
    }

    #[test]
    fn law_labels_near_one_point_take_different_ground() {
        let mut room = Room::new(Rect::new(0.0, 0.0, 300.0, 200.0));
        let spots: Vec<Rect> = (0..6)
            .filter_map(|_| room.near(Px::new(150.0, 100.0), 60.0, 14.0))
            .collect();
        assert_eq!(spots.len(), 6);
        for (i, a) in spots.iter().enumerate() {
            assert!(a.within(&room.bounds));
            assert!(spots.iter().skip(i + 1).all(|b| !a.overlaps(b)));
        }
    }
}
