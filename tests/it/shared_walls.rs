//! Walls that two beds share: the laws of a pair, for every kind of wall that has straight runs.

use std::collections::BTreeSet;
use std::io::Cursor;

use calamine::{Reader, Xlsx};
use loamwright::price::Estimate;
use loamwright::write::xlsx::workbook;
use proptest::prelude::*;
use proptest::sample::select;
use rust_decimal::Decimal;

use crate::pipeline::{priced, text, tree};
use crate::tables::Tables;

/// Frames of every kind, each under its own name; sheets and modules come out in whole feet and pairs of feet.
const FRAMES: &str = "\
Frame,Frame kind,Material,Corner,Laid,Thickness,Batter,Post material,Post spacing,Ribs,Rail material,Cap material,Base material,Base depth,Fastener
Butt,boards,2x10 fir,butt,,,,4x4 fir,4 ft,,,2x6 fir,,,Deck screw
Lapped,boards,2x10 fir,lapped,,,,,,,,,,,Deck screw
Hollow,blocks,Hollow block 8x8x16,,mortared,,,,,,,,Clean stone,6 in,
Segments,blocks,Segmental unit 8x4x12,,dry,,,,,,,,Clean stone,6 in,
Leaning,stone,Fieldstone,,dry,12 in,1:6,,,,,Cap stone,Clean stone,6 in,
Upright,stone,Fieldstone,,dry,12 in,upright,,,,,,,,
Timbers,timbers,6x6 cedar,,,,,,,,,,Clean stone,4 in,Rebar pins
Ribs along,panels,Corrugated steel,,,,,4x4 fir,4 ft,along,2x4 cedar,,,,Deck screw
Ribs upright,panels,Corrugated steel,,,,,4x4 fir,4 ft,upright,2x4 cedar,,,,Deck screw
Flat,panels,Cement board,,,,,4x4 fir,4 ft,upright,2x4 cedar,,,,Deck screw
Bolted,modular,Steel module,,,,,,,,,,,,Bolt set
";
const MATERIALS: &str = "\
Material,Category,Delivered density,Wet-down %,First season %,Waste %,Panel length,Panel width,Cover width,Section
Plain soil,soil,\"2,200 lb/yd3\",0%,0%,0%,,,,
Steel module,panel,,,,0%,2 ft,18 in,,
Corrugated steel,panel,,,,,,26 in,24 in,
Cement board,panel,,,,,,,,
Bolt set,fastener,,,,0%,,,,
";
/// Prices without breaks or packs of many, so that less of a thing never costs more.
const PRICES: &str = "\
Supplier,Material,Pack,Holds,Price,Step
Yard,Plain soil,yard,1 yd3,40.00,
Yard,Clean stone,yard,1 yd3,60.00,
Yard,Fieldstone,ton,\"2,000 lb\",200.00,0.05 ton
Yard,Cap stone,length,1 ft,20.00,
Mill,2x10 fir,board,12 ft,30.00,
Mill,2x6 fir,board,12 ft,15.00,
Mill,4x4 fir,post,8 ft,16.00,
Mill,2x4 cedar,board,12 ft,10.00,
Mill,6x6 cedar,timber,8 ft,45.00,
Mill,Deck screw,each,1,0.10,
Mill,Rebar pins,each,1,1.10,
Mill,Hollow block 8x8x16,each,1,2.90,
Mill,Segmental unit 8x4x12,each,1,3.10,
Mill,Corrugated steel,panel 26 in x 12 ft,,38.00,
Mill,Cement board,sheet 4x8 ft,,44.00,
Mill,Steel module,each,1,18.00,
Mill,Bolt set,each,1,0.20,
";

/// Two beds, of which the second may say how much wall they share.
#[derive(Clone, Debug)]
struct Pair {
    frame: &'static str,
    feet: [[u32; 2]; 2],
    heights: [u32; 2],
    shared: u32,
    falls: Option<&'static str>,
}

const KINDS: [&str; 11] = [
    "Butt",
    "Lapped",
    "Hollow",
    "Segments",
    "Leaning",
    "Upright",
    "Timbers",
    "Ribs along",
    "Ribs upright",
    "Flat",
    "Bolted",
];

fn pair() -> impl Strategy<Value = Pair> {
    let side = || 2..9_u32;
    let sizes = (side(), 2..5_u32, side(), 2..5_u32);
    let heights = (1..3_u32, 1..3_u32);
    let falls = select(vec![None, Some("length"), Some("width")]);
    (select(KINDS.to_vec()), sizes, heights, 1..16_u32, falls).prop_map(
        |(frame, (a, b, c, d), (high, other), shared, falls)| {
            let feet = [[2 * a, 2 * b], [2 * c, 2 * d]];
            let longest = feet.map(|[long, wide]| long.max(wide));
            Pair {
                frame,
                feet,
                heights: [high, other],
                shared: shared.min(longest[0]).min(longest[1]),
                falls: falls.filter(|_| frame != "Bolted"),
            }
        },
    )
}

impl Pair {
    /// The job of both, joined or apart, with the rows of its beds in an order.
    fn job(&self, joined: bool, turned: bool) -> Tables {
        let row = |i: usize| {
            let [long, wide] = self.feet[i];
            let high = match self.frame {
                "Bolted" => format!("{} in,", 18 * self.heights[i]),
                "Butt" | "Lapped" | "Hollow" | "Segments" | "Timbers" => {
                    format!(",{}", self.heights[i] + 1)
                }
                _ => format!("{} in,", 12 * self.heights[i]),
            };
            let (name, joins) = match i {
                0 => ("Near", String::new()),
                _ => ("Far", format!("Near {} ft", self.shared)),
            };
            let joins = if joined { joins.as_str() } else { "" };
            let (slope, along) = self.falls.map_or(("", ""), |along| ("6%", along));
            let frame = self.frame;
            format!("{name},{long},{wide},{high},{frame},Soil,{slope},{along},{joins}\n")
        };
        let rows = if turned {
            [row(1), row(0)]
        } else {
            [row(0), row(1)]
        };
        let titles =
            "Bed,Length (ft),Width (ft),Height,Courses,Frame,Fill,Slope %,Slope along,Joins\n";
        let mut tables = Tables::default();
        tables.put("Beds", &format!("{titles}{}", rows.concat()));
        tables.put("Frames", FRAMES);
        tables.put("Materials", MATERIALS);
        tables.put("Prices", PRICES);
        tables.put(
            "Fills",
            "Fill,Layer,Material,Depth\nSoil,1,Plain soil,rest\n",
        );
        tables.put(
            "Job",
            "Setting,Value\nJob name,Pair\nUnits,US\nTop-up,none\n",
        );
        tables
    }

    fn estimate(&self, joined: bool, turned: bool) -> Estimate {
        priced(&self.job(joined, turned).folder().path)
    }
}

/// What all goods of a job cost.
fn materials(estimate: &Estimate) -> Decimal {
    let tree = tree(estimate);
    let lines = tree["price"]["lines"].as_array().unwrap();
    let line = lines
        .iter()
        .find(|line| line["key"] == "materials")
        .unwrap();
    line["amount"].as_str().unwrap().parse().unwrap()
}

/// The room of both beds and what fills it; once for beds alike, which are of one kind only when they are apart.
fn room(estimate: &Estimate) -> BTreeSet<(String, String)> {
    let tree = tree(estimate);
    let kinds = tree["kinds"].as_array().unwrap();
    let each = kinds.iter().map(|kind| {
        let room = format!("{} {}", kind["inside_area"], kind["fill_height"]);
        (room, kind["layers"].to_string())
    });
    each.collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 120, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_joined_pair_never_costs_more_than_the_two_apart(pair in pair()) {
        let [apart, joined] = [false, true].map(|joined| pair.estimate(joined, false));
        let [before, after] = [&apart, &joined].map(materials);
        prop_assert!(after <= before, "{after} joined, {before} apart");
        prop_assert_eq!(room(&joined), room(&apart));
    }

    #[test]
    fn the_order_of_a_pair_changes_nothing(pair in pair()) {
        let [one, other] = [false, true].map(|turned| text(&pair.estimate(true, turned)));
        prop_assert_eq!(one, other);
    }
}

#[test]
fn the_take_off_sheet_lists_each_wall_once() {
    let pair = Pair {
        frame: "Butt",
        feet: [[8, 4], [8, 4]],
        heights: [2, 1],
        shared: 8,
        falls: None,
    };
    let bytes = workbook(&pair.estimate(true, false)).unwrap();
    let mut book = Xlsx::new(Cursor::new(bytes)).unwrap();
    let sheet = book.worksheet_range("Take-off").unwrap();
    let rows: Vec<Vec<String>> = sheet
        .rows()
        .map(|row| row.iter().map(ToString::to_string).collect())
        .collect();
    let first = |words: &str| rows.iter().position(|row| row[0] == words).unwrap();
    let at = first("Walls that two beds share");
    // Near has 3 courses and Far 2.
    assert_eq!(rows[at + 1][4], "Wall, ft");
    assert_eq!(
        [0, 2, 4].map(|column| &*rows[at + 2][column]),
        ["Near", "Far", "8"]
    );
    assert_eq!(rows[at + 3][0], "");
}

/// A side of 8 ft shared whole saves something in every kind of wall.
#[test]
fn every_kind_of_wall_is_shared() {
    for frame in KINDS {
        let pair = Pair {
            frame,
            feet: [[8, 4], [8, 4]],
            heights: [1, 1],
            shared: 8,
            falls: None,
        };
        let [apart, joined] = [false, true].map(|joined| materials(&pair.estimate(joined, false)));
        assert!(joined < apart, "{frame}: {joined} joined, {apart} apart");
    }
}
