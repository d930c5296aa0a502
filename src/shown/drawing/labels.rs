//! Labels beside the section, pushed apart so that none covers another.

/// One label: where it points, and where it stands, px from the top.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Label {
    pub(super) points_at_px: f64,
    pub(super) stands_at_px: f64,
    pub(super) words: String,
    /// Which cut it belongs to, for its colour.
    pub(super) cut: Option<usize>,
}

impl Label {
    pub(super) const fn new(points_at_px: f64, words: String, cut: Option<usize>) -> Self {
        Self {
            points_at_px,
            stands_at_px: points_at_px,
            words,
            cut,
        }
    }
}

/// Spreads labels to at least a line's height apart, each as near its point as that allows, none
/// below a foot: pushed down from the top, then up from the foot.
pub(super) fn spread(mut labels: Vec<Label>, line_px: f64, foot_px: f64) -> Vec<Label> {
    labels.sort_by(|one, other| one.points_at_px.total_cmp(&other.points_at_px));
    let mut least_px = f64::NEG_INFINITY;
    for label in &mut labels {
        label.stands_at_px = label.points_at_px.max(least_px);
        least_px = label.stands_at_px + line_px;
    }
    let mut most_px = foot_px;
    for label in labels.iter_mut().rev() {
        label.stands_at_px = label.stands_at_px.min(most_px);
        most_px = label.stands_at_px - line_px;
    }
    labels
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn law_labels_never_cover_one_another() {
        let labels = [100.0, 101.0, 102.0, 40.0, 190.0, 199.0]
            .map(|at| Label::new(at, String::new(), None))
            .to_vec();
        let spread = spread(labels, 12.0, 200.0);
        assert!(
            spread
                .windows(2)
                .all(|pair| pair[1].stands_at_px - pair[0].stands_at_px >= 12.0 - 1e-9)
        );
        assert!(spread.iter().all(|label| label.stands_at_px <= 200.0));
    }
}
