//! Work on the ground, what grows there, and paths.

use super::{check_bed_error, check_errors, d, job, told};
use crate::model::ground::{Cover, Cutter, GroundWork, Plan};
use crate::problem::Severity;
use crate::units::by_hand::{feet, inches};
use crate::units::{Area, Density};

fn ground(typed: &str) -> GroundWork {
    let text = format!("Bed,Size,Frame,Ground\nA1,4x8x18 in,2x10,{typed}\n");
    job(&[("Beds", &text)]).beds[0].ground.value
}

#[test]
fn work_on_the_ground_is_said_in_a_few_words() {
    let depth = inches("3");
    let by = |by| GroundWork::Strip { depth, by };
    assert_eq!(ground(""), GroundWork::Leave);
    assert_eq!(ground("Leave"), GroundWork::Leave);
    assert_eq!(ground("mow and cover"), GroundWork::Cover);
    assert_eq!(ground("strip 3 in"), by(Cutter::Hand));
    assert_eq!(ground("Strip 3\u{201d} with a cutter"), by(Cutter::Powered));
    let dug = GroundWork::Dig { depth: inches("6") };
    assert_eq!(ground("dig 6 in"), dug);
    assert_eq!(ground("dig out 0.5 ft"), dug);
    assert_eq!(ground("double dig"), GroundWork::DoubleDig);
    assert_eq!(ground("loosen"), GroundWork::Loosen);
}

#[test]
fn a_depth_without_its_unit_is_asked_for() {
    check_bed_error(
        "Size,Ground",
        "4x8x18 in,strip 3",
        "error: Ground needs a depth with its unit\n  at Beds.csv:2:4, which holds \"strip 3\"\n  \
         hint: write strip 3 in or dig 150 mm",
    );
}

#[test]
fn the_bed_wins_over_its_site_and_the_site_over_the_job() {
    let beds = "Bed,Size,Frame,Site,Ground\nA1,4x8x18 in,2x10,North,loosen\n\
                A2,4x8x18 in,2x10,North,\nA3,4x8x18 in,2x10,South,\n";
    let sheets = [
        ("Beds", beds),
        (
            "Sites",
            "Site,Ground,Ground work\nNorth,\"old lawn, tested\",strip 3 in\nSouth,brambles,\n",
        ),
        ("Job", "Setting,Value\nGround work,mow and cover\n"),
    ];
    let job = job(&sheets);
    let works: Vec<GroundWork> = job.beds.iter().map(|b| b.ground.value).collect();
    let strip = GroundWork::Strip {
        depth: inches("3"),
        by: Cutter::Hand,
    };
    assert_eq!(works, [GroundWork::Loosen, strip, GroundWork::Cover]);
    let covers: Vec<Option<Cover>> = job
        .sites
        .iter()
        .map(|s| s.cover.as_ref().map(|c| c.value))
        .collect();
    assert_eq!(covers, [Some(Cover::Lawn), Some(Cover::Brush)]);
    let notices = told(&sheets, Severity::Notice);
    let said = "Ground of the bed, loosen, wins over strip 3 in of the site";
    assert!(notices.iter().any(|n| n.contains(said)), "{notices:#?}");
}

#[test]
fn loose_spoil_weighs_what_the_ground_does_divided_by_the_swell() {
    let beds = (
        "Beds",
        "Bed,Size,Frame,Ground\nA1,4x8x18 in,2x10,dig 6 in\n",
    );
    let swell = ("Job", "Setting,Value\nSwell %,15%\n");
    let found = job(&[beds, swell]);
    let spoil = found.material(found.spoil.unwrap()).unwrap();
    // 2,875 lb/yd3 / 1.15 = 2,500 lb/yd3
    let expected = Density::pounds_per_cubic_yard(d("2500")).tidy();
    assert_eq!(spoil.delivered.as_ref().unwrap().value.tidy(), expected);
    // Nobody is priced to take it, so it stays; with a price it goes.
    assert_eq!(found.settings.ground.spoil_kept.value, d("1"));
    let tip = ("Prices", "Supplier,Material,Pack,Price\nTip,Spoil,ton,25\n");
    assert_eq!(job(&[beds, tip]).settings.ground.spoil_kept.value, d("0"));
}

#[test]
fn paths_have_two_sides_or_an_area() {
    let beds = ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,2x10\n");
    let areas = "Area,Size,Material,Depth,Edging,Edging length,Less beds\n\
                 Yard,20 x 10 ft,Stone dust,3 in,2x4,,yes\n\
                 Odd corner,120 ft2,Wood chips,4 in,2x4,15 ft,\n";
    let found = job(&[beds, ("Areas", areas)]);
    let plan = Plan::Rectangle {
        length: feet("20"),
        width: feet("10"),
    };
    assert_eq!(found.areas[0].plan, plan);
    assert!(found.areas[0].less_beds);
    // 2 x (20 + 10) = 60 ft all round
    let round = &found.areas[0].edging.as_ref().unwrap().length;
    assert_eq!(round.value, feet("60"));
    // Stone dust settles by 18% when it is wetted and tamped; wood chips by 12%.
    let compaction = |n: usize| found.areas[n].surface.as_ref().unwrap().compaction.value;
    assert_eq!((compaction(0), compaction(1)), (d("0.18"), d("0.12")));
    let odd = Plan::Measured(Area::square_feet(d("120")));
    assert_eq!(found.areas[1].plan, odd);
    check_errors(
        &[
            beds,
            (
                "Areas",
                "Area,Size,Edging,Material\nOdd corner,120 ft2,2x4,Wood chips\n",
            ),
        ],
        &[
            "error: Depth is missing for the material\n  at Areas.csv:2\n  \
             hint: write how deep it lies when trodden or tamped down, as 3 in",
            "error: Edging length is missing, and only the area is known\n  at Areas.csv:2\n  \
             hint: write how long the edging is, as 60 ft",
        ],
    );
}
