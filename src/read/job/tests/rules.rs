//! Rules that hold for any job: what names may say, and what is read but not used.

use super::super::super::library::builtin;
use super::{d, job, told};
use crate::model::bed::{KeyholePath, Shape};
use crate::model::frame::{Frame, FrameKind};
use crate::model::known::Known;
use crate::model::offer::Handover;
use crate::model::settings::Paper;
use crate::problem::Severity;
use crate::units::{Amount, Area, Length, System, Volume};

/// The plan of one bed with these columns.
#[track_caller]
fn check_shape(columns: &str, values: &str, expected: &Shape) {
    let text = format!("Bed,Frame,Height (in),{columns}\nA1,2x10,18,{values}\n");
    assert_eq!(job(&[("Beds", &text)]).beds[0].shape, *expected);
}

fn feet(number: i64) -> Length {
    Length::feet(number.into())
}

#[test]
fn shapes_by_the_words_of_the_trade() {
    let side = feet(3);
    check_shape(
        "Shape,Side (ft)",
        "octagon,3",
        &Shape::Regular { sides: 8, side },
    );
    check_shape(
        "Shape,Side (ft)",
        "6-sided,3",
        &Shape::Regular { sides: 6, side },
    );
    check_shape(
        "Shape,Sides,Side (ft)",
        "regular polygon,7,3",
        &Shape::Regular { sides: 7, side },
    );
    check_shape(
        "Shape,Diameter (ft)",
        "round,3",
        &Shape::Circle { diameter: side },
    );
    check_shape("Diameter (ft)", "3", &Shape::Circle { diameter: side });
    check_shape(
        "Shape,Side (ft)",
        "quarter circle,3",
        &Shape::QuarterCircle { radius: side },
    );
    let (length, width) = (feet(8), feet(4));
    check_shape(
        "Shape,Length (ft),Width (ft)",
        "oval,8,4",
        &Shape::Ellipse { length, width },
    );
    check_shape(
        "Shape,Length (ft),Width (ft)",
        "obround,8,4",
        &Shape::RoundEnded { length, width },
    );
    check_shape(
        "Shape,Size",
        "triangle,8 ft x 4 ft",
        &Shape::Triangle { length, width },
    );
    let trapezoid = Shape::Trapezoid {
        length,
        side,
        width,
    };
    check_shape(
        "Shape,Length (ft),Width (ft),Side (ft)",
        "trapezoid,8,4,3",
        &trapezoid,
    );
}

#[test]
fn a_keyhole_has_a_basket_and_a_path() {
    let (diameter, basket) = (feet(6), feet(1));
    let strip = KeyholePath::Strip(Length::inches(d("18")));
    check_shape(
        "Shape,Diameter (ft),Basket (ft),Notch width (in)",
        "keyhole,6,1,18",
        &Shape::Keyhole {
            diameter,
            basket,
            path: strip,
        },
    );
    check_shape(
        "Shape,Diameter (ft),Basket (ft),Path angle",
        "keyhole,6,1,30",
        &Shape::Keyhole {
            diameter,
            basket,
            path: KeyholePath::Wedge(d("30")),
        },
    );
}

#[test]
fn points_take_the_unit_of_the_header_or_of_the_last_number() {
    let zero = Length::ZERO;
    let points = vec![(zero, zero), (feet(8), zero), (feet(8), feet(4))];
    let polygon = Shape::Polygon { points };
    check_shape("Points (ft)", "\"0,0; 8,0; 8,4\"", &polygon);
    check_shape("Shape,Points", "polygon,\"0,0; 8,0; 8,4 ft\"", &polygon);
    check_shape(
        "Shape,Points (in)",
        "polygon,\"0,0; 96,0; 96,48; 0,0\"",
        &polygon,
    );
}

#[test]
fn a_board_or_a_mound_may_be_named_in_place_of_a_frame() {
    let text = "Bed,Size,Frame\nA1,4x8x18 in,2x10 cedar\nA2,4x8x18 in,2X10 Cedar\nA3,4x8x8 in,none\nA4,4x8x8 in,mound\n";
    let job = job(&[("Beds", text)]);
    let kinds: Vec<FrameKind> = job.frames.iter().map(Frame::kind).collect();
    assert_eq!(kinds, [FrameKind::Boards, FrameKind::None, FrameKind::None]);
    assert_eq!(job.beds[0].frame, job.beds[1].frame);
    let notices = told(&[("Beds", text)], Severity::Notice);
    let said = "\"2x10 cedar\" is not in Frames: taken as boards of that section with butt corners, and no posts, cap, braces or fasteners";
    assert_eq!(notices.iter().filter(|n| n.contains(said)).count(), 1);
}

#[test]
fn a_ready_made_bed_may_take_its_height_from_its_frame() {
    let job = job(&[
        (
            "Beds",
            "Bed,Size,Frame\nA1,2 ft x 6 ft,Trough\nA2,2 ft x 6 ft x 30 in,Trough\n",
        ),
        (
            "Frames",
            "Frame,Frame kind,Material,Height (in)\nTrough,ready-made,Stock tank,24\n",
        ),
    ]);
    assert_eq!(job.beds[0].height, Some(Length::inches(d("24"))));
    assert_eq!(
        job.beds[1].height,
        Some(Length::inches(d("30"))),
        "the bed's own height wins"
    );
}

#[test]
fn sites_named_in_beds_alone_are_made() {
    let job = job(&[(
        "Beds",
        "Bed,Size,Frame,Site\nA1,4x8x18 in,2x10,North\nA2,4x8x18 in,2x10,\n",
    )]);
    let names: Vec<&str> = job.sites.iter().map(|s| &*s.name).collect();
    assert_eq!(names, ["North", "Site"]);
    assert_ne!(job.beds[0].site, job.beds[1].site);
}

#[test]
fn a_metric_job_has_metric_defaults() {
    let job = job(&[
        ("Job", "Setting,Value\nUnits,metric\n"),
        (
            "Beds",
            "Bed,Length (m),Width (m),Height (mm),Frame\nA1,2.4,1.2,300,47x150\n",
        ),
    ]);
    let s = job.settings;
    assert_eq!(s.units.value, System::Metric);
    assert_eq!(s.paper.value, Paper::A4);
    assert_eq!(
        s.crown,
        Known::assumed(Length::millimetres(d("50")), "not set, taken as 50 mm")
    );
    assert_eq!(s.currency.value.as_str(), "XXX");
    assert_eq!(job.sites[0].haul.value, Length::metres(d("15")));
}

#[test]
fn loose_words_and_steps_make_goods_bulk() {
    let job = job(&[
        ("Beds", "Bed,Size,Frame,Fill\nA1,4x8x18 in,2x10,Topsoil\n"),
        (
            "Prices",
            "Supplier,Material,Pack,Holds,Price,Step\nYard,Topsoil,half yard,,24,\nYard,Topsoil,heap,1 yd3,40,0.25 yd3\nYard,Topsoil,40 lb bag,,5,\nYard,2x10,board,12 ft,20,1\nYard,Topsoil,big bag,1 yd3,90,2\n",
        ),
    ]);
    let handovers: Vec<Handover> = job.offers.iter().map(|o| o.handover).collect();
    let (bulk, packed) = (Handover::Bulk, Handover::Packed);
    assert_eq!(handovers, [bulk, bulk, packed, packed, packed]);
    assert_eq!(
        job.offers[0].holds,
        Amount::Volume(Volume::cubic_yards(d("0.5")))
    );
    assert_eq!(job.offers[1].step, d("0.25"));
    assert_eq!(job.offers[4].step, d("2"));
}

#[test]
fn what_is_not_used_yet_is_said() {
    let notices = told(
        &[
            ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,2x10\n"),
            ("Suppliers", "Supplier,Off-load\nHill Yard,fork lift\n"),
            ("Actuals", "Date,Quantity\n2026-05-04,3\n"),
            ("Job", "Setting,Value\nOverhed %,12%\n"),
        ],
        Severity::Notice,
    );
    let said = |words: &str| notices.iter().any(|n| n.contains(words));
    assert!(
        said("notice: Actuals is read but not used yet\n  at Actuals.csv:2"),
        "{notices:#?}"
    );
    assert!(said(
        "notice: Off-load is read but not used yet\n  at Suppliers.csv:2:2, which holds \"fork lift\""
    ));
    assert!(said(
        "\"Overhed %\" is not a setting and is not used\n  at Job.csv:2:1"
    ));
    assert!(said("did you mean \"Overhead %\"?"));
}

#[test]
fn an_empty_taxable_is_said_where_tax_matters() {
    let beds = ("Beds", "Bed,Size,Frame,Fill\nA1,4x8x18 in,2x10,Topsoil\n");
    let prices = (
        "Prices",
        "Supplier,Material,Pack,Price\nYard,Topsoil,yard,40\n",
    );
    let taxed = ("Job", "Setting,Value\nTax mode,whole price\n");
    let says = |sheets: super::Sheets<'_>| {
        let notices = told(sheets, Severity::Notice);
        notices
            .iter()
            .any(|n| n.contains("Taxable is not set for 1 price of Prices, taken as yes"))
    };
    assert!(says(&[beds, prices, taxed]));
    assert!(!says(&[beds, prices]));
}

#[test]
fn a_notice_of_many_rows_is_told_once() {
    let text = "Bed,Size,Frame,Slope %\nA1,4x8x18 in,2x10,5%\nA2,4x8x18 in,2x10,5%\n";
    let notices = told(&[("Beds", text)], Severity::Notice);
    let slopes = notices.iter().filter(|n| n.contains("Slope along"));
    assert_eq!(
        slopes.collect::<Vec<_>>(),
        [
            "notice: Slope along is not set, taken as length (2 rows)\n  at Beds.csv:2:4, which holds \"5%\""
        ]
    );
}

#[test]
fn the_trades_short_ways_of_writing_are_read() {
    let sheets: super::Sheets<'_> = &[
        ("Beds", "Bed,Size,Frame,Fill\nA1,4x8x18 in,2x10,Topsoil\n"),
        (
            "Workers",
            "Worker,Pay rate,Paid or volunteer\nCrew,$28.50/h,paid\n",
        ),
        (
            "Prices",
            "Supplier,Material,Pack,Holds,Price,Step,Least quantity\nYard,Topsoil,yard,1,40,half yard,2 yards\nShop,Hardware cloth,roll,100 ft,120,,\n",
        ),
    ];
    let job = job(sheets);
    assert_eq!(job.workers[0].pay_rate.as_ref().unwrap().value, d("28.50"));
    assert_eq!(
        (job.offers[0].step, job.offers[0].least),
        (d("0.5"), d("2"))
    );
    // 100 ft of a 36 in roll is 300 ft2
    assert_eq!(
        job.offers[1].holds,
        Amount::Area(Area::square_feet(d("300")))
    );
    let notices = told(sheets, Severity::Notice);
    let said = "Holds of Hardware cloth is a length, taken as a roll 3' wide";
    assert!(notices.iter().any(|n| n.contains(said)), "{notices:#?}");
}

#[test]
fn every_figure_that_a_job_falls_back_on_is_in_the_library() {
    let library = builtin();
    for key in [
        "kerf_in",
        "least_offcut_in",
        "setup_h",
        "post_spacing_ft",
        "post_buried",
        "screws_per_end_narrow",
        "screws_per_end_medium",
        "screws_per_end_wide",
        "finish_cover_ft2_gal",
        "volunteer_factor",
        "volunteer_session_h",
        "volunteer_briefing_h",
        "volunteer_per_supervisor",
        "volunteer_no_show_pct",
    ] {
        assert!(library.figure(key).is_some(), "{key}");
    }
}

#[test]
fn a_finish_covers_what_the_library_says_until_the_job_says_otherwise() {
    let job = job(&[
        ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,Wall\n"),
        (
            "Frames",
            "Frame,Frame kind,Material,Finish\nWall,boards,2x10,Exterior wood oil\n",
        ),
        (
            "Materials",
            "Material,Coverage,Value,Category\nExterior wood stain,10 m2/L,,\nGift soil,,12/yd3,soil\n",
        ),
    ]);
    let named = |name: &str| job.materials.iter().find(|m| &*m.name == name).unwrap();
    // 250 ft2 = 23.22576 m2 for a gallon of 0.003785411784 m3: 6135.597 m2 for each m3
    let oil = named("Exterior wood oil").coverage.as_ref().unwrap();
    assert_eq!(oil.value.round_dp(3), d("6135.597"));
    let stain = named("Exterior wood stain").coverage.as_ref().unwrap();
    assert_eq!(stain.value, d("10000"));
    // 12 for 0.764554857984 m3 is 15.695407 for each m3
    let gift = named("Gift soil").value.as_ref().unwrap();
    assert_eq!(gift.value.round_dp(6), d("15.695407"));
}

#[test]
fn an_error_of_the_file_itself_is_not_told_twice() {
    let errors = told(
        &[("Beds", "Bed,Size,Frame\nA1,#REF!,2x10\n")],
        Severity::Error,
    );
    assert_eq!(errors.len(), 1, "{errors:#?}");
}

#[test]
fn cells_that_a_kind_of_wall_has_no_use_for_are_said() {
    let beds = "Bed,Size,Frame\nA1,4x8x18 in,Tub\nA2,4x8x8 in,Heap\n";
    let frames = "Frame,Frame kind,Material,Post material,Liner,Side slope\n\
                  Tub,ready-made,Steel ring,4x4,,\nHeap,none,,,Wall liner,2\n";
    let prices = "Supplier,Material,Pack,Price\nYard,Steel ring,each,90\n";
    let sheets = [("Beds", beds), ("Frames", frames), ("Prices", prices)];
    let notices = told(&sheets, Severity::Notice);
    for said in [
        "frame Tub is ready-made: its post material is not taken off\n  at Frames.csv:2:4",
        "frame Heap is without walls: its liner is not taken off\n  at Frames.csv:3:5",
    ] {
        let times = notices.iter().filter(|n| n.contains(said)).count();
        assert_eq!(times, 1, "{said} is not once in {notices:#?}");
    }
}

#[test]
fn a_crop_that_is_in_no_list_is_told_with_the_nearest() {
    let beds = "Bed,Size,Frame,Fill,Crop\nA,4x8x18 in,2x10,Topsoil,tomatoez\nB,4x8x18 in,2x10,Topsoil,kale and basil\n";
    let notices = told(&[("Beds", beds)], Severity::Notice);
    let crops: Vec<&String> = notices.iter().filter(|n| n.contains("Crop")).collect();
    assert_eq!(
        crops,
        [
            "notice: Crop is not in the list of crops: soil is looked at as for mixed vegetables\n  at Beds.csv:2:5, which holds \"tomatoez\"\n  hint: did you mean \"tomato\"? Otherwise see loamwright defaults crops"
        ]
    );
}
