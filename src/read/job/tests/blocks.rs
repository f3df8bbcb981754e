//! Walls of blocks: sizes from names and cells, and what is said about them.

use super::*;
use crate::model::block::{BlockMake, BlockSize};
use crate::model::frame::{BlockWall, FrameKind, Laid, Wall};
use crate::model::job::Job;
use crate::model::known::From;
use crate::units::{Length, Weight};

fn inches(text: &str) -> Length {
    Length::inches(d(text))
}

/// One bed whose frame is the row below these columns, and rows of `Materials` of these.
fn read_wall(columns: &str, row: &str, materials: &str) -> Job {
    let beds = "Bed,Size,Frame\nA1,4x8x16 in,Wall\n";
    let frames = format!("Frame,{columns}\nWall,{row}\n");
    let materials = format!("Material,Category,Section,Void %,Delivered density\n{materials}");
    job(&[
        ("Beds", beds),
        ("Frames", &frames),
        ("Materials", &materials),
    ])
}

#[track_caller]
fn wall(job: &Job) -> &BlockWall {
    match &job.frames[0].wall {
        Wall::Blocks(wall) => wall,
        other => panic!("{other:?} is not of blocks"),
    }
}

#[track_caller]
fn size(job: &Job) -> &BlockSize {
    let block = job.material(wall(job).block).unwrap();
    &block.block.as_ref().unwrap().value
}

#[track_caller]
fn check_told(columns: &str, row: &str, expected: &str) {
    let frames = format!("Frame,Frame kind,Material,{columns}\nWall,blocks,{row}\n");
    let beds = "Bed,Size,Frame\nA1,4x8x16 in,Wall\n";
    check_errors(&[("Beds", beds), ("Frames", &frames)], &[expected]);
}

#[test]
fn a_block_is_known_by_its_size_in_its_name() {
    for name in [
        "Hollow block 8x8x16",
        "CMU 8 x 8 x 16",
        "Concrete block",
        "Grey 8×8×16 block",
    ] {
        let job = read_wall("Frame kind,Material", &format!("blocks,{name}"), "");
        assert_eq!(size(&job).height, inches("7.625"), "{name}");
        assert_eq!(size(&job).weight, Some(Weight::pounds(d("34"))), "{name}");
        assert_eq!(wall(&job).laid.value, Laid::Dry);
        assert!(matches!(wall(&job).laid.from, From::Assumed(_)));
    }
    // The kind of frame follows from its material, and a cap is not the block that it shares numbers with.
    let job = read_wall(
        "Material,Cap material",
        "Concrete block,Cap block 4x8x16",
        "",
    );
    assert_eq!(job.frames[0].kind(), FrameKind::Blocks);
    let cap = job.material(wall(&job).cap.unwrap()).unwrap();
    assert_eq!(cap.block.as_ref().unwrap().value.height, inches("3.625"));
    // A timber that is sold 16 ft long is none.
    let job = read_wall("Material", "8x8x16 cedar", "");
    assert_eq!(job.frames[0].kind(), FrameKind::Boards);
}

#[test]
fn a_block_of_the_job_s_own_has_its_height_in_the_middle() {
    let columns = "Frame kind,Material,Laid";
    let row = "blocks,Quarry block,mortared";
    for section in ["9.5 x 5.5 x 15.5 in", "15.5 x 5.5 x 9.5 in"] {
        let materials = format!("Quarry block,block,{section},40%,120 lb/ft3\n");
        let job = read_wall(columns, row, &materials);
        let size = size(&job);
        assert_eq!(size.length, inches("15.5"));
        assert_eq!((size.height, size.depth), (inches("5.5"), inches("9.5")));
        assert_eq!((size.cells, size.joint), (d("0.4"), inches("0.375")));
        // 15.5 x 5.5 x 9.5 in = 809.875 in3 = 0.468678 ft3, x 120 lb = 56.24 lb
        assert_eq!(size.weight.unwrap().in_pounds().round_dp(2), d("56.24"));
    }
    let own = "Terrace unit,block,segmental 10x6x18 in,,\n";
    let job = read_wall("Frame kind,Material", "blocks,Terrace unit", own);
    assert_eq!(size(&job).make, BlockMake::Segmental);
    assert_eq!(size(&job).joint, Length::ZERO);
    // The same block of the library, whichever end it begins at.
    let own = "Grey block,block,16x8x8 in,,\n";
    let job = read_wall("Frame kind,Material", "blocks,Grey block", own);
    assert_eq!(size(&job).length, inches("15.625"));
}

#[test]
fn mortar_that_is_not_named_is_that_of_the_library() {
    let job = read_wall(
        "Frame kind,Material,Laid",
        "blocks,Concrete block,mortared",
        "",
    );
    let mortar = job.material(wall(&job).mortar.unwrap()).unwrap();
    assert_eq!(&*mortar.name, "Mortar mix");
    let job = read_wall(
        "Frame kind,Material,Laid,Mortar",
        "blocks,Concrete block,dry,Mortar mix",
        "",
    );
    assert_eq!(wall(&job).mortar, None);
}

#[test]
fn walls_that_nobody_can_lay_are_told() {
    check_told(
        "Laid",
        "Segmental unit,mortared",
        "error: Laid must be dry for segmental units, whose lips and pins leave no joint\n  at Frames.csv:2:4, which holds \"mortared\"\n  hint: write dry, or name a block that is laid in mortar",
    );
    check_told(
        "Bar material",
        "Concrete block,#4 rebar",
        "error: Bar material is named, but not how many bars there are\n  at Frames.csv:2:4, which holds \"#4 rebar\"\n  hint: give Bar every, as 32 in, for upright bars, or Bar courses, as 2, for bars all round in every second course",
    );
    check_told(
        "Core fill",
        "2x10 cedar,",
        "error: Material is not a known material\n  at Frames.csv:2:3, which holds \"2x10 cedar\"\n  hint: add a row for it to Materials with its Category",
    );
}

#[test]
fn a_size_whose_middle_is_the_longest_is_asked_for() {
    check_errors(
        &[
            ("Beds", "Bed,Size,Frame\nA1,4x8x16 in,2x10\n"),
            (
                "Materials",
                "Material,Category,Section\nOdd,block,4x12x8 in\n",
            ),
        ],
        &[
            "error: Section needs the size of a block\n  at Materials.csv:2:3, which holds \"4x12x8 in\"\n  hint: write 8x8x16, or the true size with the height in the middle, as 7.5 x 7.5 x 15.5 in or 440 x 215 x 100 mm",
        ],
    );
}
