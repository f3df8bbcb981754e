//! Plans and sections to scale, from the geometry that beds are taken off by.
//!
//! A drawing is a list of marks on paper, in hundredths of a millimetre from its top left corner, so that
//! printed at full size a scale rule reads it. Layers differ by pattern and by words, never by colour alone.

mod kind;
mod marks;
mod paper;
mod plan;
mod section;
mod svg;

pub use kind::{Drawings, Room, common_scale, drawings, small_plan};
pub use marks::{Anchor, Drawing, Line, Mark, Pattern, Spot};
pub use paper::{MM, Paper, Scale};
pub use plan::{Above, outline, outline_on_paper, plan};
pub use section::{Across, Band, section};
pub use svg::svg;
