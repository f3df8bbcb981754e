//! Every task of the trade library is driven by a cell that somebody may type: a small job each shows it.
//!
//! Longer than most because it is a table with a row for each task.

use std::collections::BTreeSet;

use loamwright::read::library;

use crate::pipeline::priced;
use crate::tables::Tables;

/// A task by its key, the cell that drives it, and the sheets in which a small job differs from [`base`].
type Driven = (
    &'static str,
    &'static str,
    &'static [(&'static str, &'static str)],
);

/// A walled and filled bed by itself brings these.
const BY_ITSELF: &[Driven] = &[
    ("set_out_site", "Sites: Site", &[]),
    ("snag_list", "Sites: Site", &[]),
    ("set_out_bed", "Beds: Bed", &[]),
    ("wet_down", "Beds: Bed", &[]),
    ("clean_up", "Beds: Bed", &[]),
    ("level_footprint", "Beds: Size", &[]),
    ("cut_boards", "Frames: Material", &[]),
    ("fix_boards", "Frames: Material", &[]),
    ("join_corners", "Frames: Material", &[]),
    ("spread", "Fills: Material", &[]),
];

/// Columns of `Frames` bring these.
const OF_FRAMES: &[Driven] = &[
    (
        "rip_boards",
        "Frames: Top course",
        &[(
            "Frames",
            "Frame,Material,Top course\nWall,2x10 cedar,ripped\n",
        )],
    ),
    (
        "treat_ends",
        "Frames: End treatment",
        &[(
            "Frames",
            "Frame,Material,End treatment\nWall,2x10 cedar,End-cut preservative\n",
        )],
    ),
    (
        "inside_posts",
        "Frames: Post material",
        &[(
            "Frames",
            "Frame,Material,Post material\nWall,2x10 cedar,4x4\n",
        )],
    ),
    (
        "set_posts",
        "Frames: Post buried",
        &[(
            "Frames",
            "Frame,Material,Post material,Post buried\nWall,2x10 cedar,4x4,24 in\n",
        )],
    ),
    (
        "braces",
        "Frames: Brace every",
        &[(
            "Frames",
            "Frame,Material,Brace every\nWall,2x10 cedar,4 ft\n",
        )],
    ),
    (
        "cap",
        "Frames: Cap material",
        &[(
            "Frames",
            "Frame,Material,Cap material\nWall,2x10 cedar,2x6\n",
        )],
    ),
    (
        "liner",
        "Frames: Liner",
        &[(
            "Frames",
            "Frame,Material,Liner\nWall,2x10 cedar,Wall liner\n",
        )],
    ),
    (
        "mesh",
        "Frames: Bottom mesh",
        &[(
            "Frames",
            "Frame,Material,Bottom mesh\nWall,2x10 cedar,Burrow mesh\n",
        )],
    ),
    (
        "finish",
        "Frames: Finish",
        &[(
            "Frames",
            "Frame,Material,Finish\nWall,2x10 cedar,Exterior wood oil\n",
        )],
    ),
    (
        "place_units",
        "Frames: Frame kind",
        &[(
            "Frames",
            "Frame,Frame kind,Material\nWall,ready-made,Stock tank\n",
        )],
    ),
];

/// What goes into beds, and how it comes, brings these.
const OF_FILLS: &[Driven] = &[
    (
        "sheets",
        "Fills: Depth",
        &[(
            "Fills",
            "Fill,Layer,Material,Depth\nSoil,1,Cardboard,2 sheets\nSoil,2,Topsoil,rest\n",
        )],
    ),
    (
        "place_wood",
        "Fills: Material",
        &[(
            "Fills",
            "Fill,Layer,Material,Depth\nSoil,1,\"Logs, stacked\",6 in\nSoil,2,Topsoil,rest\n",
        )],
    ),
    (
        "spread_litter",
        "Fills: Material",
        &[(
            "Fills",
            "Fill,Layer,Material,Depth\nSoil,1,Leaves,4 in\nSoil,2,Topsoil,rest\n",
        )],
    ),
    (
        "mix",
        "Mixes: Parts",
        &[
            ("Fills", "Fill,Layer,Material,Depth\nSoil,1,Blend,rest\n"),
            (
                "Mixes",
                "Mix,Material,Parts\nBlend,Topsoil,1\nBlend,Compost,1\n",
            ),
        ],
    ),
    (
        "work_in",
        "Amendments: Rate",
        &[(
            "Amendments",
            "Fill,Material,Rate\nSoil,Garden lime,5 lb/100 ft2\n",
        )],
    ),
    (
        "bags",
        "Prices: Pack",
        &[(
            "Prices",
            "Supplier,Material,Pack,Holds,Price\nShop,Topsoil,bag,1 ft3,4\n",
        )],
    ),
    (
        "receive_loads",
        "Deliveries: Vehicle",
        &[
            (
                "Prices",
                "Supplier,Material,Pack,Step,Price\nPit,Topsoil,yard,0.5,40\n",
            ),
            (
                "Deliveries",
                "Supplier,Vehicle,Volume limit,Fee\nPit,Truck,7 yd3,50\n",
            ),
        ],
    ),
];

/// What is done to the ground brings these.
const OF_GROUND: &[Driven] = &[
    (
        "mow_ground",
        "Beds: Ground",
        &[(
            "Beds",
            "Bed,Size,Frame,Fill,Ground\nA,8 x 4 ft x 17 in,Wall,Soil,mow and cover\n",
        )],
    ),
    (
        "cover_ground",
        "Job: Ground work",
        &[("Job", "Setting,Value\nGround work,mow and cover\n")],
    ),
    (
        "strip_turf",
        "Sites: Ground work",
        &[(
            "Sites",
            "Site,Travel time (h),Ground work\nYard,0,strip 3 in\n",
        )],
    ),
    (
        "strip_turf_cutter",
        "Beds: Ground",
        &[(
            "Beds",
            "Bed,Size,Frame,Fill,Ground\nA,8 x 4 ft x 17 in,Wall,Soil,strip 3 in with a cutter\n",
        )],
    ),
    (
        "clear_weeds",
        "Sites: Ground",
        &[(
            "Sites",
            "Site,Travel time (h),Ground,Ground work\nYard,0,weeds,loosen\n",
        )],
    ),
    (
        "clear_brush",
        "Sites: Ground",
        &[(
            "Sites",
            "Site,Travel time (h),Ground,Ground work\nYard,0,brush,loosen\n",
        )],
    ),
    (
        "loosen_ground",
        "Beds: Ground",
        &[(
            "Beds",
            "Bed,Size,Frame,Fill,Ground\nA,8 x 4 ft x 17 in,Wall,Soil,loosen\n",
        )],
    ),
    (
        "double_dig",
        "Beds: Ground",
        &[(
            "Beds",
            "Bed,Size,Frame,Fill,Ground\nA,8 x 4 ft x 17 in,Wall,Soil,double dig\n",
        )],
    ),
    (
        "dig_out",
        "Beds: Ground",
        &[(
            "Beds",
            "Bed,Size,Frame,Fill,Ground\nA,8 x 4 ft x 17 in,Wall,Soil,dig 6 in\n",
        )],
    ),
];

/// Paths and surrounds bring these.
const OF_AREAS: &[Driven] = &[
    (
        "path_mulch",
        "Areas: Material",
        &[(
            "Areas",
            "Area,Size,Depth,Material\nPath,20 x 3 ft,3 in,Wood chips\n",
        )],
    ),
    (
        "path_gravel",
        "Areas: Material",
        &[(
            "Areas",
            "Area,Size,Depth,Material\nPath,20 x 3 ft,3 in,Stone dust\n",
        )],
    ),
    (
        "path_edging",
        "Areas: Edging",
        &[("Areas", "Area,Size,Edging\nPath,20 x 3 ft,2x4\n")],
    ),
    (
        "path_fabric",
        "Areas: Under",
        &[(
            "Areas",
            "Area,Size,Under\nPath,20 x 3 ft,Landscape fabric\n",
        )],
    ),
];

/// Drip lines bring these.
const OF_IRRIGATION: &[Driven] = &[
    (
        "lay_drip_line",
        "Irrigation: Line spacing",
        &[("Irrigation", "Bed,Line spacing\nall,12 in\n")],
    ),
    (
        "lay_supply_tube",
        "Irrigation: Main length",
        &[("Irrigation", "Bed,Main length\nall,40 ft\n")],
    ),
    (
        "set_drip_fittings",
        "Irrigation: Line spacing",
        &[("Irrigation", "Bed,Line spacing\nall,12 in\n")],
    ),
];

/// Walls of sheets and modules bring these.
const OF_SHEETS: &[Driven] = &[
    (
        "frame_panels",
        "Frames: Rail material",
        &[
            (
                "Materials",
                "Material,Category,Panel length,Panel width,Cover width\nSheet steel,panel,8 ft,26 in,24 in\n",
            ),
            (
                "Frames",
                "Frame,Frame kind,Material,Post material,Rail material\nWall,panels,Sheet steel,4x4,2x4\n",
            ),
        ],
    ),
    (
        "fix_panels",
        "Frames: Material",
        &[
            (
                "Materials",
                "Material,Category,Panel length,Panel width,Cover width\nSheet steel,panel,8 ft,26 in,24 in\n",
            ),
            (
                "Frames",
                "Frame,Frame kind,Material,Post material,Rail material\nWall,panels,Sheet steel,4x4,2x4\n",
            ),
        ],
    ),
    (
        "unpack_modules",
        "Frames: Frame kind",
        &[
            (
                "Materials",
                "Material,Category,Panel length,Panel width\nSteel module,panel,2 ft,17 in\n",
            ),
            (
                "Frames",
                "Frame,Frame kind,Material\nWall,modular,Steel module\n",
            ),
        ],
    ),
    (
        "bolt_modules",
        "Frames: Material",
        &[
            (
                "Materials",
                "Material,Category,Panel length,Panel width\nSteel module,panel,2 ft,17 in\n",
            ),
            (
                "Frames",
                "Frame,Frame kind,Material\nWall,modular,Steel module\n",
            ),
        ],
    ),
];

/// Walls of blocks bring these.
const OF_BLOCKS: &[Driven] = &[
    (
        "bar",
        "Frames: Bar material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid,Bar material,Bar every\nWall,blocks,Hollow block 8x8x16,mortared,Reinforcing bar 1/2 in,32 in\n",
        )],
    ),
    (
        "block_base",
        "Frames: Material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,blocks,Hollow block 8x8x16,dry\n",
        )],
    ),
    (
        "block_dry",
        "Frames: Laid",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,blocks,Hollow block 8x8x16,dry\n",
        )],
    ),
    (
        "block_mortar",
        "Frames: Laid",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,blocks,Hollow block 8x8x16,mortared\n",
        )],
    ),
    (
        "segmental_unit",
        "Frames: Material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,blocks,Segmental unit 8x4x12,dry\n",
        )],
    ),
    (
        "block_core",
        "Frames: Core fill",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid,Core fill\nWall,blocks,Hollow block 8x8x16,dry,Clean stone\n",
        )],
    ),
    (
        "block_cut",
        "Beds: Size",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,blocks,Hollow block 8x8x16,dry\n",
        )],
    ),
    (
        "block_cap",
        "Frames: Cap material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid,Cap material\nWall,blocks,Hollow block 8x8x16,dry,Cap block 4x8x16\n",
        )],
    ),
    (
        "dig_trench",
        "Frames: Base material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid,Base material\nWall,blocks,Hollow block 8x8x16,dry,Pea gravel\n",
        )],
    ),
    (
        "tamp_base",
        "Frames: Base material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid,Base material\nWall,blocks,Hollow block 8x8x16,dry,Pea gravel\n",
        )],
    ),
];

/// Walls of timbers and of stone bring these.
const OF_TIMBERS_AND_STONE: &[Driven] = &[
    (
        "stack_timbers",
        "Frames: Material",
        &[(
            "Frames",
            "Frame,Frame kind,Material\nWall,timbers,6x6 cedar\n",
        )],
    ),
    (
        "pin_timbers",
        "Frames: Fastener",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Fastener\nWall,timbers,6x6 cedar,Rebar pins\n",
        )],
    ),
    (
        "pin_ground",
        "Frames: Fastener",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Fastener\nWall,timbers,6x6 cedar,Rebar pins\n",
        )],
    ),
    (
        "set_anchors",
        "Frames: Anchor every",
        &[
            (
                "Beds",
                "Bed,Size,Slope %,Slope along,Frame,Fill\nA,12 x 6 ft x 33 in,8%,width,Wall,Soil\n",
            ),
            (
                "Frames",
                "Frame,Frame kind,Material,Anchor every\nWall,timbers,6x6 cedar,6 ft\n",
            ),
        ],
    ),
    (
        "lay_stone_dry",
        "Frames: Material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,stone,Fieldstone,dry\n",
        )],
    ),
    (
        "lay_stone_mortar",
        "Frames: Laid",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid\nWall,stone,Fieldstone,mortared\n",
        )],
    ),
    (
        "cap_stones",
        "Frames: Cap material",
        &[(
            "Frames",
            "Frame,Frame kind,Material,Laid,Cap material\nWall,stone,Fieldstone,dry,Cap stone\n",
        )],
    ),
];

fn all() -> impl Iterator<Item = &'static Driven> {
    [
        BY_ITSELF,
        OF_FRAMES,
        OF_SHEETS,
        OF_IRRIGATION,
        OF_BLOCKS,
        OF_TIMBERS_AND_STONE,
        OF_FILLS,
        OF_GROUND,
        OF_AREAS,
    ]
    .into_iter()
    .flatten()
}

/// One bed of 8 x 4 ft with a wall of boards, full of soil, 17 in high.
fn base() -> Tables {
    let mut tables = Tables::default();
    tables.put("Job", "Setting,Value\nUnits,US\n");
    tables.put("Sites", "Site,Travel time (h)\nYard,0\n");
    tables.put(
        "Beds",
        "Bed,Size,Frame,Fill\nA,8 x 4 ft x 17 in,Wall,Soil\n",
    );
    tables.put("Frames", "Frame,Material\nWall,2x10 cedar\n");
    tables.put("Fills", "Fill,Layer,Material,Depth\nSoil,1,Topsoil,rest\n");
    tables
}

/// Names of the tasks that take hours in a job.
fn worked(tables: &Tables) -> BTreeSet<String> {
    let folder = tables.folder();
    let estimate = priced(folder.as_ref());
    let lines = estimate.labour.lines.iter();
    let lines = lines.filter(|line| !line.hours.is_zero());
    lines.map(|line| line.name.to_string()).collect()
}

#[test]
fn every_task_of_the_library_is_driven_by_a_cell() {
    let library = library::builtin();
    let known: BTreeSet<&str> = library.tasks.iter().map(|t| &*t.key).collect();
    let shown: BTreeSet<&str> = all().map(|(key, _, _)| *key).collect();
    assert_eq!(known, shown);
    let plain = worked(&base());
    for (key, cell, changes) in all() {
        let mut tables = base();
        for (sheet, text) in *changes {
            tables.put(sheet, text);
        }
        let task = library.tasks.iter().find(|t| t.key.as_ref() == *key);
        let name = task.unwrap().name.to_string();
        let own = changes.is_empty();
        assert_eq!(plain.contains(&name), own, "{key} without {cell}");
        assert!(worked(&tables).contains(&name), "{key} by {cell}");
    }
}
