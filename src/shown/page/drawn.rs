//! A picture in the two widths that a page shows.

use super::error::PageError;
use crate::shown::plot::{ChartError, Size};

/// One chart in the two widths that a page shows.
#[derive(Debug, Clone)]
pub(super) struct Drawn {
    pub(super) phone: String,
    pub(super) wide: String,
}

/// Width and height on a phone held upright, px: the room that 360 px leave within the page's
/// margins, so that nothing is scaled down.
const PHONE: (u32, u32) = (308, 340);
/// Width and height on a wide screen, px.
const WIDE: (u32, u32) = (704, 430);

impl Drawn {
    pub(super) fn of(draw: impl Fn(Size) -> Result<String, ChartError>) -> Result<Self, PageError> {
        Ok(Self {
            phone: draw(Size::new(PHONE.0, PHONE.1))?,
            wide: draw(Size::new(WIDE.0, WIDE.1))?,
        })
    }
}
