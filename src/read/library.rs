//! The built-in trade library, from the tables in `templates/library`.

mod overrides;
mod table;

use std::sync::{Arc, OnceLock};

use rust_decimal::Decimal;

use crate::model::block::{BlockMake, BlockSize};
use crate::model::labour::Driver;
use crate::model::library::{
    Library, LibraryBlock, LibraryCaution, LibraryCrop, LibraryFigure, LibraryMaterial,
    LibrarySection, LibraryTask,
};
use crate::model::material::{Category, Section};
use crate::problem::{Problem, Staged};
use crate::units::length::{CUBIC_METRES_PER_CUBIC_YARD, SQUARE_METRES_PER_SQUARE_FOOT};
use crate::units::{Dimension, Length, System, Weight};
use table::{Read, TableRow};

/// The tables by name, as they are exported: `materials`, `sections`, `blocks`, `tasks`, `figures`, `crops`,
/// `cautions`, each with the text of its CSV file.
pub const TABLES: [(&str, &str); 7] = [
    (
        "materials",
        include_str!("../../templates/library/materials.csv"),
    ),
    (
        "sections",
        include_str!("../../templates/library/sections.csv"),
    ),
    ("blocks", include_str!("../../templates/library/blocks.csv")),
    ("tasks", include_str!("../../templates/library/tasks.csv")),
    (
        "figures",
        include_str!("../../templates/library/figures.csv"),
    ),
    ("crops", include_str!("../../templates/library/crops.csv")),
    (
        "cautions",
        include_str!("../../templates/library/cautions.csv"),
    ),
];

/// The library, and a bug for each row of it that cannot be used. The tables are parsed once.
pub fn load() -> Staged<Library> {
    static PARSED: OnceLock<Staged<Library>> = OnceLock::new();
    PARSED.get_or_init(|| parse(&TABLES)).clone()
}

/// The library without its problems, of which a test says that there are none.
pub fn builtin() -> Library {
    load().output
}

fn parse(tables: &[(&str, &str)]) -> Staged<Library> {
    let mut library = Library::default();
    let mut problems = Vec::new();
    for (name, text) in tables {
        let file = format!("{name}.csv");
        let told = &mut problems;
        match *name {
            "materials" => library.materials = table::rows(&file, text, told, material),
            "sections" => library.sections = table::rows(&file, text, told, section),
            "blocks" => library.blocks = table::rows(&file, text, told, block),
            "tasks" => library.tasks = table::rows(&file, text, told, task),
            "figures" => library.figures = table::rows(&file, text, told, figure),
            "crops" => library.crops = table::rows(&file, text, told, crop),
            "cautions" => library.cautions = table::rows(&file, text, told, caution),
            _ => told.push(Problem::bug(format!("no built-in table is called {name}"))),
        }
    }
    let overrides = table::rows(
        "../overrides.csv",
        overrides::TABLE,
        &mut problems,
        overrides::entry,
    );
    library.overrides = overrides;
    Staged {
        output: library,
        problems,
    }
}

fn material(row: &TableRow) -> Read<LibraryMaterial> {
    let delivered = match row.optional("delivered_lb_yd3")? {
        Some(_) => Some(row.range(
            "delivered_low_lb_yd3",
            "delivered_lb_yd3",
            "delivered_high_lb_yd3",
        )?),
        None => None,
    };
    let wet_down = row.range("wet_down_low_pct", "wet_down_pct", "wet_down_high_pct")?;
    let first_season = row.range(
        "first_season_low_pct",
        "first_season_pct",
        "first_season_high_pct",
    )?;
    row.percent("wet_down_high_pct")?;
    row.percent("first_season_high_pct")?;
    Ok(LibraryMaterial {
        key: row.text("key")?,
        name: row.text("name")?,
        also: row.names("also")?,
        category: row.word("category", category)?,
        delivered: delivered.map(|(_, typical, _)| typical),
        delivered_range: delivered.map(|(low, _, high)| (low, high)),
        wet: row.optional("wet_lb_yd3")?,
        wet_down: wet_down.1,
        wet_down_range: (wet_down.0, wet_down.2),
        first_season: first_season.1,
        first_season_range: (first_season.0, first_season.2),
        void: row.percent("void_pct")?,
        infill: row.percent("infill_pct")?,
        waste: row.percent("waste_pct")?,
        roll_width: row.optional("roll_width_in")?,
        lap: row.optional("lap_in")?,
        backing: row.backing()?,
    })
}

fn category(word: &str) -> Option<Category> {
    Category::ALL.into_iter().find(|c| c.word() == word)
}

/// The unit of a row's sizes, and the system of units that it belongs to.
fn size_unit(row: &TableRow) -> Read<(System, Length)> {
    row.word("unit", |word| match word {
        "in" => Some((System::UsCustomary, Length::inches(Decimal::ONE))),
        "mm" => Some((System::Metric, Length::millimetres(Decimal::ONE))),
        _ => None,
    })
}

fn section(row: &TableRow) -> Read<LibrarySection> {
    let (system, unit) = size_unit(row)?;
    let key = row.text("key")?;
    Ok(LibrarySection {
        key: Arc::clone(&key),
        system,
        section: Section {
            nominal: key,
            nominal_face: unit.times(row.number("nominal_face")?),
            thickness: unit.times(row.number("thickness")?),
            face: unit.times(row.number("face")?),
        },
        unit: row.text("unit")?,
        surface: row.text("surface")?,
        backing: row.backing()?,
    })
}

fn block(row: &TableRow) -> Read<LibraryBlock> {
    let (_, unit) = size_unit(row)?;
    let key = row.text("key")?;
    let size = |column: &str| row.number(column).map(|number| unit.times(number));
    let weight = row.range("weight_low_lb", "weight_lb", "weight_high_lb")?;
    Ok(LibraryBlock {
        key: Arc::clone(&key),
        block: BlockSize {
            nominal: key,
            make: row.word("make", |word| {
                BlockMake::ALL.into_iter().find(|m| m.word() == word)
            })?,
            nominal_height: size("nominal_height")?,
            length: size("length")?,
            height: size("height")?,
            depth: size("depth")?,
            joint: size("joint")?,
            cells: row
                .percent("cells_pct")?
                .checked_div(Decimal::ONE_HUNDRED)
                .unwrap_or_default(),
            weight: Some(Weight::pounds(weight.1)),
        },
        weight_range: (weight.0, weight.2),
        unit: row.text("unit")?,
        backing: row.backing()?,
    })
}

fn task(row: &TableRow) -> Read<LibraryTask> {
    let driver = row.word("driver", driver)?;
    Ok(LibraryTask {
        key: row.text("key")?,
        name: row.text("name")?,
        driver,
        per: row.word("per", |words| per(words, driver.dimension()))?,
        per_words: row.text("per")?,
        hours: row.range("low_h", "typical_h", "high_h")?,
        haul: row.word("haul", |word| match word {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        })?,
        backing: row.backing()?,
    })
}

fn driver(word: &str) -> Option<Driver> {
    Driver::ALL.iter().copied().find(|d| d.word() == word)
}

/// The amount that hours are for, in base units, when it is of the driver's dimension.
fn per(words: &str, dimension: Dimension) -> Option<Decimal> {
    let (number, unit) = match words.split_once(' ') {
        Some((number, unit)) => (number.parse().ok()?, unit),
        None => (Decimal::ONE, words),
    };
    let (size, of) = match unit {
        "each" => (Decimal::ONE, Dimension::Count),
        "ft" => (Length::feet(Decimal::ONE).in_metres(), Dimension::Length),
        "ft2" => (SQUARE_METRES_PER_SQUARE_FOOT, Dimension::Area),
        "yd3" => (CUBIC_METRES_PER_CUBIC_YARD, Dimension::Volume),
        _ => return None,
    };
    (of == dimension).then(|| size.saturating_mul(number))
}

fn figure(row: &TableRow) -> Read<LibraryFigure> {
    Ok(LibraryFigure {
        key: row.text("key")?,
        name: row.text("name")?,
        value: row.range("low", "typical", "high")?,
        unit: row.text("unit")?,
        backing: row.backing()?,
    })
}

fn crop(row: &TableRow) -> Read<LibraryCrop> {
    Ok(LibraryCrop {
        key: row.text("key")?,
        name: row.text("name")?,
        examples: row.names("examples")?,
        open: row.number("open_in")?,
        closed: row.number("closed_in")?,
        backing: row.backing()?,
    })
}

fn caution(row: &TableRow) -> Read<LibraryCaution> {
    Ok(LibraryCaution {
        key: row.text("key")?,
        trigger: row.text("trigger")?,
        names: row.names("names")?,
        threshold: row.optional("threshold")?,
        unit: row.words("unit")?,
        words: row.text("words")?,
        jurisdiction: row.words("jurisdiction")?,
        backing: row.backing()?,
    })
}

#[cfg(test)]
mod tests;
