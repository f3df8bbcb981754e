//! From beds to quantities: what one bed of each kind needs, before packs and prices.
//!
//! Nothing here knows an offer or a wage. Identical beds are taken off once.

mod amendments;
mod angle;
mod areas;
mod bill;
#[cfg(test)]
pub(crate) mod by_hand;
pub mod curved;
pub mod drip;
mod faces;
pub mod geometry;
mod ground;
mod heights;
mod kinds;
mod layers;
mod offset;
mod one_bed;
pub mod outline;
mod polygon;
mod rolls;
mod room;
mod settle;
pub mod shape;
mod shared;
mod sheets;
mod size;
mod skins;
pub mod solids;
pub mod sticks;
#[cfg(test)]
mod support;
#[cfg(test)]
mod tests;
pub mod trace;
mod walls;

pub use faces::Faces;
pub use kinds::kinds;
pub use one_bed::{faces, take_off, take_off_all, take_off_with};

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::model::bed::BedId;
use crate::model::ground::AreaId;
use crate::model::id;
use crate::model::job::{PhaseId, SiteId};
use crate::model::labour::Driver;
use crate::model::material::{Category, MaterialId};
use crate::problem::Problem;
use crate::units::{Amount, Area, Length, Volume, Weight};

id!(
    /// A kind of bed, by its place in [`Kinds::kinds`].
    KindId
);

/// Beds that are alike in everything that is computed: shape, frame, fill, site, phase, base, slope.
#[derive(Clone, Debug)]
pub struct BedKind {
    /// The first of them in bed-name order.
    pub first: BedId,
    /// All of them, in bed-name order.
    pub beds: Vec<BedId>,
    /// How many beds that is, each row times its count.
    pub count: Decimal,
    /// Where they stand.
    pub site: SiteId,
    /// When they are built.
    pub phase: PhaseId,
}

/// A path or surround, which bears cost as a kind of one bed does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AreaKind {
    /// The area.
    pub area: AreaId,
    /// Where it lies.
    pub site: SiteId,
    /// When it is laid.
    pub phase: PhaseId,
}

/// All kinds of bed and all areas, and the kind of each bed.
///
/// Take-offs stand in the order of the kinds, those of the areas after them.
#[derive(Clone, Debug, Default)]
pub struct Kinds {
    /// In the bed-name order of their first beds.
    pub kinds: Vec<BedKind>,
    /// One for each bed of the job, in the job's order.
    pub of_bed: Vec<KindId>,
    /// In the order of their names.
    pub areas: Vec<AreaKind>,
}

/// Something that needs goods and work, and bears what they cost: a kind of bed, or an area.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bearer {
    /// Its number; those of areas follow those of kinds.
    pub id: KindId,
    /// How many of it there are.
    pub count: Decimal,
    /// Where.
    pub site: SiteId,
    /// When.
    pub phase: PhaseId,
}

impl Kinds {
    /// All that bears cost: the kinds of bed, then the areas.
    pub fn bearers(&self) -> impl Iterator<Item = Bearer> + '_ {
        let beds = self.kinds.iter().map(|k| (k.count, k.site, k.phase));
        let areas = self.areas.iter().map(|a| (Decimal::ONE, a.site, a.phase));
        let all = beds.chain(areas).enumerate();
        all.map(|(index, (count, site, phase))| Bearer {
            id: KindId::of(index),
            count,
            site,
            phase,
        })
    }

    /// How many there are of a kind of bed; one of an area.
    pub fn count(&self, id: KindId) -> Decimal {
        match self.kinds.get(id.index()) {
            Some(kind) => kind.count,
            None => Decimal::from(u8::from(self.area(id).is_some())),
        }
    }

    /// The area of a number, when it is none of a kind of bed.
    pub fn area(&self, id: KindId) -> Option<AreaId> {
        let place = id.index().checked_sub(self.kinds.len())?;
        Some(self.areas.get(place)?.area)
    }

    /// The number under which an area bears cost.
    pub fn of_area(&self, area: AreaId) -> Option<KindId> {
        let place = self.areas.iter().position(|a| a.area == area)?;
        Some(KindId::of(self.kinds.len().saturating_add(place)))
    }
}

/// When something is bought and placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Moment {
    /// On the filling day.
    Build,
    /// After the first season.
    TopUp,
}

/// What a need is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// Wall boards.
    Board,
    /// Timbers of walls, and of their anchors.
    Timber,
    /// Stone of walls.
    Stone,
    /// Small stone in the heart of walls.
    Hearting,
    /// Mortar.
    Mortar,
    /// The base in the trench of a wall.
    WallBase,
    /// Wall panels: sheets or modules.
    Panel,
    /// Rails that hold sheets.
    Rail,
    /// Posts.
    Post,
    /// Trims of corners.
    CornerTrim,
    /// Pieces that turn the corners of modules.
    CornerPiece,
    /// Caps.
    Cap,
    /// Braces.
    Brace,
    /// Fasteners.
    Fastener,
    /// Wall liner.
    Liner,
    /// Mesh below.
    Mesh,
    /// Finish.
    Finish,
    /// Preservative on the ends of lumber.
    EndTreatment,
    /// Wall blocks.
    Block,
    /// Halves of wall blocks.
    HalfBlock,
    /// What fills the cells of blocks.
    CoreFill,
    /// Reinforcing bars.
    Bar,
    /// Adhesive.
    Adhesive,
    /// A bed bought whole.
    ReadyMade,
    /// What mown ground is covered with.
    GroundCover,
    /// The surface of a path.
    Surface,
    /// Fabric below a path.
    Under,
    /// The edge of a path.
    Edging,
    /// Ground that is carried away.
    Spoil,
    /// A layer of fill, from the bottom, from 0.
    Layer(u16),
    /// An amendment, by its row, from 0.
    Amendment(u16),
    /// The top-up after the first season.
    TopUp,
    /// Lines, tube and fittings of a drip system.
    Watering,
}

/// Something that one bed needs.
#[derive(Clone, Debug)]
pub struct Need {
    /// What.
    pub material: MaterialId,
    /// What for.
    pub part: Part,
    /// When.
    pub moment: Moment,
    /// What stands in the bed, before settlement, infill and waste.
    pub net: Amount,
    /// What must be ordered for it, before packs.
    pub order: Amount,
}

/// A length to be cut for one bed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Piece {
    /// Of which material.
    pub material: MaterialId,
    /// How long.
    pub length: Length,
    /// How many of it in one bed.
    pub count: u32,
    /// Where it goes: `long side`, `post`, `cap`.
    pub mark: Arc<str>,
    /// On which sides and in which courses, as far as that is known; they come to `count` at most.
    pub places: Vec<PiecePlace>,
}

impl Piece {
    /// Says where more of them go; those of one side and course are counted together.
    fn add(&mut self, place: Option<PiecePlace>) {
        let Some(place) = place else { return };
        let key = (place.side, place.course);
        match self.places.iter_mut().find(|p| (p.side, p.course) == key) {
            Some(known) => known.count = known.count.saturating_add(place.count),
            None => self.places.push(place),
        }
    }
}

/// Where in a bed so many pieces go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct PiecePlace {
    /// The side, counted round the bed from 1, the first along its length or from its first corner.
    pub side: u16,
    /// The course, from the ground up, for pieces of courses.
    pub course: Option<u16>,
    /// How many.
    pub count: u32,
}

/// A rectangle to be cut from a sheet for one bed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SheetPiece {
    /// Of which material.
    pub material: MaterialId,
    /// Along the ribs or the grain of the sheet.
    pub length: Length,
    /// Across them.
    pub width: Length,
    /// How many of it in one bed.
    pub count: u32,
    /// Where it goes: `long side`.
    pub mark: Arc<str>,
}

/// One layer as computed for one bed. The terms stay apart so that they can be shown.
#[derive(Clone, Debug)]
pub struct LayerTakeOff {
    /// Name of the material or mix.
    pub name: Arc<str>,
    /// Of what kind it is; a mix is soil.
    pub category: Category,
    /// Depth when settled to the chosen moment; zero for sheets.
    pub depth: Length,
    /// Volume in place: inside area x depth.
    pub volume: Volume,
    /// What runs into the voids of wood below.
    pub infill: Volume,
    /// Volume to order for filling day, before packs.
    pub order: Volume,
    /// What the first season takes, for the top-up.
    pub season_loss: Volume,
    /// Number of sheets; zero for other layers.
    pub sheets: u32,
}

/// What one bed of a kind, or one area, needs and is. Of an area the outside is what it covers, less
/// the beds in it, and there is no inside.
#[derive(Clone, Debug)]
pub struct TakeOff {
    /// The size in words: `8' x 4' outside, 18 1/2" high (2 courses of 2x10)`.
    pub size: String,
    /// Outline outside the walls.
    pub outside_area: Area,
    /// Length of the outline outside the walls.
    pub outside_perimeter: Length,
    /// Area inside the walls.
    pub inside_area: Area,
    /// Wall height at the highest ground; zero for no wall.
    pub wall_height: Length,
    /// Wall height at the lowest ground.
    pub low_side_height: Length,
    /// Courses at the highest ground; zero when there are none.
    pub courses: u32,
    /// Height that is filled: mean wall height less freeboard.
    pub fill_height: Length,
    /// Layers from the bottom up.
    pub layers: Vec<LayerTakeOff>,
    /// All needs, boards and other cut lengths included as lengths.
    pub needs: Vec<Need>,
    /// Lengths to cut, for materials with a section.
    pub pieces: Vec<Piece>,
    /// Rectangles to cut from sheets.
    pub sheet_pieces: Vec<SheetPiece>,
    /// What there is to do, by driver, in base units.
    pub work: Vec<(Driver, Decimal)>,
    /// Loose volume hauled from the tipping place, by material, with waste.
    pub hauled: Vec<(MaterialId, Volume)>,
    /// Ground that is worked, with its margin; nothing when it is left as it is.
    pub ground_area: Area,
    /// Undisturbed volume of ground that leaves its place.
    pub spoil: Volume,
    /// Weight of the fill when soaked.
    pub saturated_weight: Weight,
    /// Weight of the walls, as far as what they are built of says it; zero when nothing does.
    pub wall_weight: Weight,
    /// How far the surface will sink by the end of the first season.
    pub sink: Length,
    /// How far the fill stands above the wall on filling day.
    pub stands_above: Length,
    /// Volume of the top-up.
    pub top_up: Volume,
    /// How it is watered.
    pub watering: Option<drip::Watering>,
    /// What the crew does to build it, in order, with the measures of this bed.
    pub crew_notes: Vec<String>,
    /// Everything to tell about this kind.
    pub problems: Vec<Problem>,
}
