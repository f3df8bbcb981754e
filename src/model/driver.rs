//! What tasks are counted by.

use crate::units::Dimension;

/// The drivers, one entry each: what it counts, its name here, its word in files, what it is measured in.
macro_rules! drivers {
    ($($(#[$doc:meta])+ $name:ident = $word:literal, $dimension:ident;)+) => {
        /// What a task is counted by. Take-off, orders and the site visit each produce some of these.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Driver {
            $($(#[$doc])+ $name,)+
        }

        impl Driver {
            /// Every driver.
            pub const ALL: &[Self] = &[$(Self::$name),+];

            /// Its word in files.
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$name => $word,)+
                }
            }

            /// What it is measured in.
            pub const fn dimension(self) -> Dimension {
                match self {
                    $(Self::$name => Dimension::$dimension,)+
                }
            }
        }
    };
}

drivers! {
    /// Started sites.
    Site = "site", Count;
    /// Beds.
    Bed = "bed", Count;
    /// Outside area of a bed on the ground.
    Footprint = "footprint", Area;
    /// Inside area of a bed.
    BedArea = "bed area", Area;
    /// Saw cuts.
    Cut = "cut", Count;
    /// Length of boards ripped along.
    Rip = "rip", Length;
    /// Ends of lumber brushed with preservative.
    CutEnd = "cut end", Count;
    /// Boards placed.
    Board = "board", Count;
    /// Corner joints, one a corner and course.
    CornerJoint = "corner joint", Count;
    /// Posts fixed inside a frame that end at the ground.
    PostInside = "inside post", Count;
    /// Posts set in dug holes.
    PostSet = "set post", Count;
    /// Braces across a bed.
    Brace = "brace", Count;
    /// Length of cap.
    CapLength = "cap", Length;
    /// Length of trench dug and filled below a wall.
    TrenchLength = "trench", Length;
    /// Undisturbed volume dug out.
    SpoilVolume = "spoil", Volume;
    /// Blocks of the first course, bedded level.
    BlockBase = "base block", Count;
    /// Blocks stacked dry.
    BlockDry = "dry block", Count;
    /// Blocks laid in mortar.
    BlockMortared = "mortared block", Count;
    /// Segmental units.
    BlockSegmental = "segmental unit", Count;
    /// Blocks whose cells are filled.
    BlockCore = "block core", Count;
    /// Cuts through blocks and caps.
    BlockCut = "block cut", Count;
    /// Cap units set on a rim.
    BlockCap = "cap unit", Count;
    /// Reinforcing bars cut and placed.
    Bar = "bar", Count;
    /// Area of wall liner.
    LinerArea = "liner", Area;
    /// Area of mesh.
    MeshArea = "mesh", Area;
    /// Covered area of protective sheet, once for each sheet.
    SheetArea = "sheet", Area;
    /// Bulk volume of wood placed by hand.
    WoodVolume = "wood", Volume;
    /// Volume of leaves or straw spread.
    LitterVolume = "litter", Volume;
    /// Loose volume of soil, compost, mulch, aggregate and blends spread and raked.
    SpreadVolume = "spread", Volume;
    /// Volume blended on site.
    MixVolume = "mix", Volume;
    /// Bed area into which amendments are worked.
    AmendArea = "amended area", Area;
    /// Length of timbers stacked in courses.
    TimberLength = "timber", Length;
    /// Pins driven from a timber into the one below.
    TimberPin = "timber pin", Count;
    /// Pins driven through the first course into the ground.
    GroundPin = "ground pin", Count;
    /// Timber anchors dug in behind a wall.
    Anchor = "anchor", Count;
    /// Outside face of wall of stone laid dry.
    StoneDry = "dry stone", Area;
    /// Outside face of wall of stone laid in mortar.
    StoneMortared = "mortared stone", Area;
    /// Length of stones laid on a rim.
    CapStone = "cap stone", Length;
    /// Ready-made units set.
    Unit = "unit", Count;
    /// Area that gets a coat, once for each coat.
    CoatArea = "coat", Area;
    /// Bags opened.
    Bag = "bag", Count;
    /// Loads received.
    Load = "load", Count;
    /// Loose volume hauled from the tipping place; the barrow model sets the rate.
    HaulVolume = "haul", Volume;
    /// Hours typed as such.
    Hour = "hour", Count;
}
