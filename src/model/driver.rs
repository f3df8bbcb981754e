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
    /// Turf mown short before it is covered.
    Mown = "mown ground", Area;
    /// Ground covered with cardboard, wetted and weighed down, all its sheets together.
    Covered = "covered ground", Area;
    /// Ground cleared of weeds and light growth.
    Weeded = "weedy ground", Area;
    /// Ground cleared of dense brush, roots grubbed out.
    Grubbed = "brush ground", Area;
    /// Turf stripped by hand and carried the first stretch.
    SodByHand = "sod", Area;
    /// Turf stripped with a powered cutter and carried the first stretch.
    SodPowered = "sod with a cutter", Area;
    /// Ground loosened with a fork.
    Loosened = "loosened ground", Area;
    /// Ground dug two spits deep and put back.
    DoubleDug = "double dug ground", Area;
    /// Undisturbed volume dug out and cast aside.
    DugVolume = "dug ground", Volume;
    /// Undisturbed volume that leaves its place, by whatever work.
    SpoilVolume = "spoil", Volume;
    /// Loose volume of mulch, chips or soil spread on paths.
    PathVolume = "path mulch", Volume;
    /// Area of aggregate spread and tamped on paths, at 3 in: 6 in count twice.
    PathArea = "gravel path", Area;
    /// Length of path edging.
    EdgingLength = "edging", Length;
    /// Area of fabric below paths.
    FabricArea = "fabric", Area;
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
    /// Length of wall framed for panels, the panels cut to it.
    PanelWall = "panel wall", Length;
    /// Panels fixed to their frame.
    Panel = "panel", Count;
    /// Beds of modules unpacked.
    ModularBed = "modular bed", Count;
    /// Lines of bolts between modules.
    BoltLine = "bolt line", Count;
    /// Ready-made units set.
    Unit = "unit", Count;
    /// Area that gets a coat, once for each coat.
    CoatArea = "coat", Area;
    /// Length of drip line laid and staked.
    DripLength = "drip line", Length;
    /// Length of tube laid.
    TubeLength = "supply tube", Length;
    /// Tees, elbows, plugs and valves set.
    DripFitting = "drip fitting", Count;
    /// Bags opened.
    Bag = "bag", Count;
    /// Loads received.
    Load = "load", Count;
    /// Loose volume hauled from the tipping place; the barrow model sets the rate.
    HaulVolume = "haul", Volume;
    /// Hours typed as such.
    Hour = "hour", Count;
}
