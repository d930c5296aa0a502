//! What can still become of a flywheel: metal comes off, never on.

use thiserror::Error;

/// Which wheel is machined out of which: one entry a wheel, the wheel it is cut from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Reach {
    cut_from: Vec<Option<usize>>,
}

/// Wheels that are cut from each other in a ring.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("flywheel {0} is, in the end, cut from itself")]
pub struct CutFromItself(pub usize);

impl Reach {
    /// From the wheel that each is cut from.
    ///
    /// # Errors
    /// When a wheel is cut from itself, directly or in turn.
    pub fn new(cut_from: Vec<Option<usize>>) -> Result<Self, CutFromItself> {
        let reach = Self { cut_from };
        let ring = (0..reach.cut_from.len()).find(|wheel| reach.ancestors(*wheel).contains(wheel));
        ring.map_or(Ok(reach), |wheel| Err(CutFromItself(wheel)))
    }

    /// So many wheels that are all whole on the shelf.
    pub fn all_bought(wheels: usize) -> Self {
        Self {
            cut_from: vec![None; wheels],
        }
    }

    /// The wheel that one is cut from.
    pub fn cut_from(&self, wheel: usize) -> Option<usize> {
        self.cut_from.get(wheel).copied().flatten()
    }

    /// Whether a wheel is not cut from anything: it may be taken at any time, unless it has been
    /// cut into the one that was begun with.
    pub fn is_bought(&self, wheel: usize) -> bool {
        self.cut_from(wheel).is_none()
    }

    /// What a wheel was cut from, and that in turn.
    fn ancestors(&self, wheel: usize) -> Vec<usize> {
        let mut found = Vec::new();
        let mut next = self.cut_from(wheel);
        while let Some(ancestor) = next {
            if found.contains(&ancestor) {
                break;
            }
            found.push(ancestor);
            next = self.cut_from(ancestor);
        }
        found
    }

    /// The wheels that may be driven after starting with one, in the sheet's order: itself,
    /// whatever is cut from it directly or in turn, and whatever is whole on the shelf: a wheel
    /// that is not cut from anything and whose metal the start has not used, with what can be
    /// cut from that.
    pub fn from(&self, start: usize) -> Vec<usize> {
        let used = self.ancestors(start);
        (0..self.cut_from.len())
            .filter(|&wheel| {
                if used.contains(&wheel) {
                    return false;
                }
                let ancestors = self.ancestors(wheel);
                let stock = ancestors.last().copied().unwrap_or(wheel);
                wheel == start || ancestors.contains(&start) || self.is_whole(stock, start, &used)
            })
            .collect()
    }

    /// Whether the stock that a wheel comes from has not been touched by the start.
    fn is_whole(&self, stock: usize, start: usize, used: &[usize]) -> bool {
        self.is_bought(stock) && stock != start && !used.contains(&stock)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// As supplied (0), skimmed out of it (1), scalloped out of that (2), a bought wheel (3).
    fn shop() -> Reach {
        Reach::new(vec![None, Some(0), Some(1), None]).unwrap()
    }

    #[test]
    fn law_metal_comes_off_and_never_on() {
        assert_eq!(shop().from(0), [0, 1, 2, 3]);
        assert_eq!(shop().from(1), [1, 2, 3]);
        assert_eq!(shop().from(2), [2, 3]);
    }

    /// Fitting a bought wheel leaves the old one whole.
    #[test]
    fn law_a_bought_wheel_uses_up_no_other() {
        assert_eq!(shop().from(3), [0, 1, 2, 3]);
    }

    /// Two wheels out of one blank: the one cannot become the other.
    #[test]
    fn law_a_sibling_is_out_of_reach() {
        let reach = Reach::new(vec![None, Some(0), Some(0)]).unwrap();
        assert_eq!(reach.from(1), [1]);
    }

    #[test]
    fn law_a_ring_is_refused() {
        assert_eq!(Reach::new(vec![Some(1), Some(0)]), Err(CutFromItself(0)));
    }
}
