//! Frames of timbers and of stone: what their columns mean, and what is said about mistakes.

use super::*;
use crate::model::frame::{Corner, Laid, Lie, StoneWall, TimberWall, Wall};
use crate::units::Length;

fn frames(row: &str) -> String {
    format!(
        "Frame,Frame kind,Material,Laid,Thickness,Batter,Fastener,Hearting %,Base material,Base depth,Coats\n{row}\n"
    )
}

const BEDS: (&str, &str) = (
    "Beds",
    "Bed,Length,Width,Height,Frame\nA,8 ft,4 ft,18 in,F\n",
);

#[track_caller]
fn timbers(row: &str) -> TimberWall {
    match job(&[BEDS, ("Frames", &frames(row))]).frames.remove(0).wall {
        Wall::Timbers(wall) => *wall,
        other => panic!("{other:?} is not of timbers"),
    }
}

#[track_caller]
fn stone(row: &str) -> StoneWall {
    match job(&[BEDS, ("Frames", &frames(row))]).frames.remove(0).wall {
        Wall::Stone(wall) => *wall,
        other => panic!("{other:?} is not of stone"),
    }
}

#[test]
fn sleepers_are_timbers_with_the_figures_of_the_library() {
    let wall = timbers("F,sleepers,200x100 oak,on edge,,,Rebar pins,,Clean stone,4 in");
    assert_eq!(wall.lie.value, Lie::OnEdge);
    assert_eq!(wall.corner.value, Corner::Lapped);
    let pins = wall.pins.expect("pins are named");
    assert_eq!(pins.every.value, Length::feet(d("4")));
    assert!(!pins.every.is_given());
    let base = wall.base.expect("a base is named");
    assert_eq!(base.depth.value, Length::inches(d("4")));
    assert!(timbers("F,timber,6x6,,,,,,,").pins.is_none());
}

#[test]
fn a_chainsaw_cuts_timbers_unless_the_job_gives_its_saw() {
    let sheets = frames("F,timber,6x6,,,,,,,");
    let jobs: Sheets<'_> = &[BEDS, ("Frames", &sheets)];
    let read = job(jobs);
    let id = read.frames[0].material().unwrap();
    assert_eq!(read.kerf(id).value, Length::inches(d("0.375")));
    let own: Sheets<'_> = &[jobs[0], jobs[1], ("Job", "Setting,Value\nKerf,1/4 in\n")];
    assert_eq!(job(own).kerf(id).value, Length::inches(d("0.25")));
}

#[test]
fn a_batter_is_typed_as_the_trade_says_it() {
    for (typed, rise) in [("1:8", "8"), ("1 in 8", "8"), ("8", "8"), ("upright", "0")] {
        let wall = stone(&format!("F,dry stone,Wall stone,,,{typed},,,,"));
        assert_eq!(wall.batter_rise.value, d(rise), "{typed}");
    }
    let silent = stone("F,stone,Wall stone,dry,,,,,,");
    assert_eq!(silent.batter_rise.value, d("6"));
    assert_eq!(silent.thickness.value, Length::inches(d("18")));
    let wet = stone("F,stone,Wall stone,mortared,,,,,,");
    assert_eq!(
        (wet.laid.value, wet.batter_rise.value),
        (Laid::Mortared, d("0"))
    );
    assert_eq!(wet.thickness.value, Length::inches(d("12")));
    check_errors(
        &[BEDS, ("Frames", &frames("F,stone,Wall stone,,,flat,,,,"))],
        &[
            "error: Batter must be a lean for a rise, no flatter than 1:1\n  at Frames.csv:2:6, which holds \"flat\"\n  hint: write 1:6, or none for an upright face",
        ],
    );
}

#[test]
fn stone_is_covered_by_face_for_a_weight() {
    let sheets = frames("F,stone,Ledge,,,,,,,");
    let ledge = |coverage: &str| format!("Material,Category,Coverage\nLedge,stone,{coverage}\n");
    let read = job(&[
        BEDS,
        ("Frames", &sheets),
        ("Materials", &ledge("20 ft2/ton")),
    ]);
    // 20 ft2 on 2,000 lb: 1.8580608 m2 on 907.18474 kg
    let face = read.materials[0].face.as_ref().unwrap().value;
    assert_eq!(
        face.round_dp(12),
        (d("1.8580608") / d("907.18474")).round_dp(12)
    );
    let wrong = ledge("20 ft2");
    let errors = told(
        &[BEDS, ("Frames", &sheets), ("Materials", &wrong)],
        Severity::Error,
    );
    assert!(errors[0].contains("Coverage of stone needs an area of face for a weight"));
}

#[test]
fn cells_of_another_kind_are_said() {
    let row = frames("F,stone,Wall stone,,,,Rebar pins,20%,,6 in,2");
    let notices = told(&[BEDS, ("Frames", &row)], Severity::Notice);
    for words in [
        "frame F is of stone: its fastener is not taken off",
        "frame F is of stone: its coats are not taken off",
        "Hearting % is not used, because no Hearting material is named",
        "Base depth is not used, because no Base material is named",
    ] {
        assert!(
            notices.iter().any(|n| n.contains(words)),
            "{words}: {notices:?}"
        );
    }
}
