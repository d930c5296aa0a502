//! What the driver's page is made from.

use crate::sheet::Reading;
use crate::study::card::CardStudy;
use crate::study::comparison::Comparison;
use crate::study::cutting::Launched;
use crate::study::decide::Decision;
use crate::study::plan::Planned;
use crate::study::play::Play;
use crate::units::System;

/// Everything that the page is made from.
#[derive(Debug, Clone, Copy)]
pub struct CardWork<'w> {
    /// The sheet as it was read.
    pub reading: &'w Reading,
    /// Its flywheels side by side.
    pub comparison: &'w Comparison<'w>,
    /// What that comes to, and what the page shows beyond; `None` if no flywheel gets the car to
    /// 60 ft.
    pub card: Option<&'w CardStudy<'w, 'w>>,
    /// Launches computed beforehand, for the sliders.
    pub play: Option<&'w Play>,
    /// The sheet's cutting plans, launched.
    pub plans: &'w [(&'w Planned<'w>, Launched<'w>)],
    /// Which flywheel to start with, given what the sheet does not know.
    pub decision: Option<&'w Decision>,
    /// Units shown at first; the reader may switch.
    pub system: System,
}
