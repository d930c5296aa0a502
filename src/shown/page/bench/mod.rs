//! The bench: a sheet and its answers on one page, a part at a time.
//!
//! The page itself is made once; its answers come in stages, each a few of its [`Part`]s to be put
//! in their places. All words from a sheet go through the templates' escaping, and no part holds a
//! script or a style of its own: the page's policy would not let it act.

mod answers;
mod form;
mod lathe;
mod page;
mod part;
mod pictures;
mod sheet_parts;
mod slips;
mod tried;

pub use answers::{averages, clean, decided, not_known, whole};
pub use form::form_part;
pub use lathe::{lathe, refused_cut};
pub use page::{Keeping, Made, Sliders, Whole, goodbye_page, page, start_page};
pub use part::{Fragment, Part};
pub use pictures::{pictures, printout_part};
pub use sheet_parts::{assumed_part, problems_part};
pub use slips::slips;
pub use tried::{tried_around, tried_launch, tried_on_average};
