//! Take-offs for the tests of what comes after: of a bed that needs nothing, and of one common bed.

use rust_decimal::Decimal;

use super::{BedKind, LayerTakeOff, Moment, Need, Part, TakeOff};
use crate::model::bed::BedId;
use crate::model::job::{PhaseId, SiteId};
use crate::model::material::MaterialId;
use crate::units::by_hand::{d, feet, inches};
use crate::units::{Amount, Area, Length, Volume, Weight};

/// A bed of no size that needs nothing.
pub(crate) fn nothing() -> TakeOff {
    TakeOff {
        size: String::new(),
        outside_area: Area::ZERO,
        outside_perimeter: Length::ZERO,
        inside_area: Area::ZERO,
        wall_height: Length::ZERO,
        low_side_height: Length::ZERO,
        courses: 0,
        fill_height: Length::ZERO,
        layers: Vec::new(),
        needs: Vec::new(),
        pieces: Vec::new(),
        sheet_pieces: Vec::new(),
        work: Vec::new(),
        hauled: Vec::new(),
        ground_area: Area::ZERO,
        spoil: Volume::ZERO,
        saturated_weight: Weight::ZERO,
        wall_weight: Weight::ZERO,
        watering: None,
        crew_notes: Vec::new(),
        sink: Length::ZERO,
        stands_above: Length::ZERO,
        top_up: Volume::ZERO,
        problems: Vec::new(),
    }
}

/// 8 x 4 ft outside in two courses of 2x10: 93 x 45 in inside, 18.5 in high; what goes in is left open.
pub(crate) fn two_courses() -> TakeOff {
    TakeOff {
        outside_area: Area::square_feet(d("32")),
        outside_perimeter: feet("24"),
        inside_area: Area::square_feet(d("29.0625")),
        wall_height: inches("18.5"),
        low_side_height: inches("18.5"),
        courses: 2,
        fill_height: inches("18.5"),
        ..nothing()
    }
}

/// A layer of which as much is ordered as stands in the bed.
pub(crate) fn layer(name: &str, depth: Length, volume: Volume) -> LayerTakeOff {
    LayerTakeOff {
        name: name.into(),
        category: crate::model::material::Category::Soil,
        depth,
        volume,
        infill: Volume::ZERO,
        order: volume,
        season_loss: Volume::ZERO,
        sheets: 0,
    }
}

/// A need of the building day, of which as much is ordered as stands in the bed.
pub(crate) fn need(material: MaterialId, part: Part, order: Amount) -> Need {
    Need {
        material,
        part,
        moment: Moment::Build,
        net: order,
        order,
    }
}

/// A kind of these rows of beds, so many in all, in the job's first phase.
pub(crate) fn kind(beds: Vec<BedId>, count: Decimal, site: SiteId) -> BedKind {
    BedKind {
        first: beds[0],
        beds,
        count,
        site,
        phase: PhaseId(0),
    }
}
