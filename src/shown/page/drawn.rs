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
/// Width and height beside a form on a wide screen, px: the room that its column leaves at the
/// width where the page goes into two columns.
#[cfg(feature = "bench")]
const BESIDE_A_FORM: (u32, u32) = (560, 380);

impl Drawn {
    pub(super) fn of(draw: impl Fn(Size) -> Result<String, ChartError>) -> Result<Self, PageError> {
        Ok(Self {
            phone: draw(Size::new(PHONE.0, PHONE.1))?,
            wide: draw(Size::new(WIDE.0, WIDE.1))?,
        })
    }

    /// The same for a page that has a form beside it.
    #[cfg(feature = "bench")]
    pub(super) fn beside_a_form(
        draw: impl Fn(Size) -> Result<String, ChartError>,
    ) -> Result<Self, PageError> {
        Ok(Self {
            phone: draw(Size::new(PHONE.0, PHONE.1))?,
            wide: draw(Size::new(BESIDE_A_FORM.0, BESIDE_A_FORM.1))?,
        })
    }
}
