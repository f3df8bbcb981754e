//! Jobs made up at random, and the same jobs written in other ways.

use std::fmt::Write as _;

use proptest::prelude::*;
use proptest::sample::select;
use rust_decimal::Decimal;

use crate::tables::Tables;

/// A bed of a made-up job. Sizes are whole and half feet.
#[derive(Clone, Debug)]
pub(crate) struct Bed {
    count: u32,
    half_feet: (u32, u32),
    courses: u32,
    frame: &'static str,
    fill: &'static str,
    site: &'static str,
}

fn bed() -> impl Strategy<Value = Bed> {
    (
        1..4_u32,
        (6..40_u32, 4..12_u32),
        1..4_u32,
        select(vec!["Cedar ten", "Cedar eight"]),
        select(vec!["Deep bed", "Shallow bed"]),
        select(vec!["Front court", "Kitchen yard"]),
    )
        .prop_map(|(count, half_feet, courses, frame, fill, site)| Bed {
            count,
            half_feet,
            courses: courses.max(2),
            frame,
            fill,
            site,
        })
}

impl Bed {
    /// Twice as many of them.
    pub(crate) fn twice(&self) -> Self {
        Self {
            count: self.count * 2,
            ..self.clone()
        }
    }
}

pub(crate) fn beds() -> impl Strategy<Value = Vec<Bed>> {
    prop::collection::vec(bed(), 1..6)
}

/// Settings that decide how the price comes about.
pub(crate) fn settings() -> impl Strategy<Value = Vec<(&'static str, &'static str)>> {
    let tax = select(vec![
        "none",
        "paid on purchases",
        "on materials lines",
        "on the whole price",
    ]);
    let top_up = select(vec!["offered", "included", "none"]);
    let profit = select(vec!["markup", "margin"]);
    let round_to = select(vec!["0.01", "5", "25"]);
    let least = select(vec!["0", "2500", "20000"]);
    let full = select(vec!["wet-down", "first season"]);
    let charge = select(vec!["", "61.50"]);
    (tax, top_up, profit, round_to, least, full, charge).prop_map(
        |(tax, top_up, profit, round_to, least, full, charge)| {
            vec![
                ("Charge rate", charge),
                ("Tax mode", tax),
                ("Top-up", top_up),
                ("Profit as", profit),
                ("Round price to", round_to),
                ("Minimum charge", least),
                ("Full after", full),
            ]
        },
    )
}

/// The clinic's lists of prices, people and materials, with these beds and settings.
pub(crate) fn job(beds: &[Bed], settings: &[(&str, &str)]) -> Tables {
    let mut tables = Tables::of("examples/clinic-gardens/job");
    let mut rows = "Bed,Count,Shape,Length (ft),Width (ft),Courses,Frame,Fill,Site\n".to_owned();
    for (number, bed) in (1..).zip(beds) {
        let feet = |halves: u32| Decimal::from(halves) / Decimal::TWO;
        let (long, wide) = bed.half_feet;
        let _ = writeln!(
            rows,
            "Bed {number:02},{},rectangle,{},{},{},{},{},{}",
            bed.count,
            feet(long),
            feet(wide),
            bed.courses,
            bed.frame,
            bed.fill,
            bed.site,
        );
    }
    tables.put("Beds", &rows);
    // Paths do not grow with the beds, and the margin of the ground work is one of each system's own.
    tables.put("Areas", "Area,Site\n");
    tables.set("Sites", &[("Site", "Front court")], "Ground work", "");
    for (name, value) in settings {
        match *name {
            "Charge rate" => tables.set("Workers", &[("Worker", "Carpenter")], name, value),
            _ => tables.setting(name, value),
        }
    }
    tables
}

/// The same job with its rows and columns in another order; layers of a fill carry their numbers.
pub(crate) fn shuffled(tables: &Tables, seed: u64) -> Tables {
    let mut shuffled = tables.clone();
    let mut dice = seed;
    let mut below = |most: usize| {
        // Knuth's generator of 64 bits; its high bits are the random ones.
        dice = dice
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(dice >> 33).unwrap() % most
    };
    for table in shuffled.0.values_mut() {
        for place in 0..table.rows.len() {
            let other = below(table.rows.len());
            table.rows.swap(place, other);
        }
        for place in 0..table.titles.len() {
            let other = below(table.titles.len());
            table.titles.swap(place, other);
            for row in &mut table.rows {
                row.swap(place, other);
            }
        }
    }
    shuffled
}

/// The job with its lengths typed in metres: a foot is 0.3048 m exactly.
pub(crate) fn in_metres(tables: &Tables) -> Tables {
    let mut tables = tables.clone();
    let beds = tables.table("Beds");
    for title in ["Length", "Width"] {
        let column = beds.column(title);
        for row in &mut beds.rows {
            let feet: Decimal = row[column].parse().unwrap();
            row[column] = format!("{} m", feet * Decimal::new(3048, 4));
        }
    }
    tables
}
