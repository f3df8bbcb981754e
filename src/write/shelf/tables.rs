//! From the tables of the library to rows of figures.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::rows::{ShelfFigure, ShelfRow, ShelfTable};
use crate::model::library::{
    Backing, Checked, Library, LibraryBlock, LibraryCaution, LibraryCrop, LibraryFigure,
    LibraryMaterial, LibrarySection, LibraryTask, is_sourced,
};
use crate::units::Length;

/// All tables of the library, in its order.
pub fn shelf(library: &Library) -> [ShelfTable; 7] {
    let maker = |table| Maker { library, table };
    let from = |name, about, pastes_into, rows| ShelfTable {
        name,
        about,
        pastes_into,
        rows,
    };
    [
        from(
            "materials",
            "what they weigh, how they settle, voids, waste, widths of rolls",
            Some("Materials"),
            all(&library.materials, &maker("materials"), material),
        ),
        from(
            "sections",
            "dressed and sawn sizes of lumber by their trade names",
            None,
            all(&library.sections, &maker("sections"), section),
        ),
        from(
            "blocks",
            "true sizes and weights of blocks by their trade names",
            None,
            all(&library.blocks, &maker("blocks"), block),
        ),
        from(
            "tasks",
            "person-hours for a unit of work",
            Some("Labour"),
            all(&library.tasks, &maker("tasks"), task),
        ),
        from(
            "figures",
            "barrows, days on site, volunteers, cutting, posts, turn-ups",
            None,
            all(&library.figures, &maker("figures"), figure),
        ),
        from(
            "crops",
            "the least depth of soil that a crop needs",
            None,
            all(&library.crops, &maker("crops"), crop),
        ),
        from(
            "cautions",
            "what is warned of, and from which figure on",
            None,
            all(&library.cautions, &maker("cautions"), caution),
        ),
    ]
}

fn all<T>(rows: &[T], maker: &Maker, row: impl Fn(&Maker, &T) -> ShelfRow) -> Vec<ShelfRow> {
    rows.iter().map(|r| row(maker, r)).collect()
}

/// What every figure of a table shares.
struct Maker<'a> {
    library: &'a Library,
    table: &'static str,
}

/// What a figure is called: its column, its label, and the label of a narrow column.
type Named = (&'static str, &'static str, &'static str);
type Range = Option<(Decimal, Decimal)>;

impl Maker<'_> {
    fn figure(
        &self,
        (key, backing): (&str, &Backing),
        (column, label, short): Named,
        value: impl Into<Option<Decimal>>,
        range: Range,
        unit: &str,
    ) -> ShelfFigure {
        let sourced = is_sourced(self.table, column);
        let (basis, confidence) = backing.said(sourced);
        let yours = self.library.override_of(self.table, key, column);
        ShelfFigure {
            column,
            label,
            short,
            value: value.into(),
            range,
            unit: unit.to_owned(),
            basis: basis.to_owned(),
            confidence: confidence.to_owned(),
            is_seen: sourced && backing.checked != Checked::Recalled,
            yours: yours.map(ToString::to_string).unwrap_or_default(),
        }
    }
}

fn row(key: &Arc<str>, name: &Arc<str>, figures: Vec<ShelfFigure>) -> ShelfRow {
    ShelfRow {
        key: Arc::clone(key),
        name: Arc::clone(name),
        kind: String::new(),
        group: "",
        also: Vec::new(),
        words: "".into(),
        figures,
    }
}

fn material(maker: &Maker, m: &LibraryMaterial) -> ShelfRow {
    let of = (&*m.key, &m.backing);
    let waste = maker.figure(of, ("waste_pct", "Waste", "waste"), m.waste, None, "%");
    let (group, figures) = if m.category.is_fill() {
        ("Fill", [fill(maker, m), vec![waste]].concat())
    } else if m.roll_width.is_some() {
        let width = ("roll_width_in", "Roll width", "roll");
        let figures = vec![
            maker.figure(of, width, m.roll_width, None, "in"),
            maker.figure(of, ("lap_in", "Lap", "lap"), m.lap, None, "in"),
            waste,
        ];
        ("Sheets, liners and mesh", figures)
    } else {
        (
            "Fixings, blocks, amendments, finishes, bought beds",
            vec![waste],
        )
    };
    ShelfRow {
        kind: m.category.word().to_owned(),
        group,
        also: m.also.clone(),
        ..row(&m.key, &m.name, figures)
    }
}

/// Figures of what is poured: densities, settling and voids.
fn fill(maker: &Maker, m: &LibraryMaterial) -> Vec<ShelfFigure> {
    let of = (&*m.key, &m.backing);
    let delivered = ("delivered_lb_yd3", "Delivered density", "delivered");
    let wet_down = ("wet_down_pct", "Wet-down loss", "wet-down");
    let season = ("first_season_pct", "First-season loss", "season");
    let density = "lb/yd3";
    vec![
        maker.figure(of, delivered, m.delivered, m.delivered_range, density),
        maker.figure(
            of,
            ("wet_lb_yd3", "Wet density", "wet"),
            m.wet,
            None,
            density,
        ),
        maker.figure(of, wet_down, m.wet_down, Some(m.wet_down_range), "%"),
        maker.figure(of, season, m.first_season, Some(m.first_season_range), "%"),
        maker.figure(of, ("void_pct", "Void share", "voids"), m.void, None, "%"),
        maker.figure(
            of,
            ("infill_pct", "Infill of the voids", "infill"),
            m.infill,
            None,
            "%",
        ),
    ]
}

fn section(maker: &Maker, s: &LibrarySection) -> ShelfRow {
    let of = (&*s.key, &s.backing);
    let (size, group) = sizes_in(&s.unit);
    let figures = vec![
        maker.figure(
            of,
            ("thickness", "Thickness", "thickness"),
            size(s.section.thickness),
            None,
            &s.unit,
        ),
        maker.figure(
            of,
            ("face", "Face", "face"),
            size(s.section.face),
            None,
            &s.unit,
        ),
    ];
    ShelfRow {
        kind: s.surface.to_string(),
        group,
        ..row(&s.key, &s.key, figures)
    }
}

/// Sizes as numbers of a unit, `in` or `mm`, and the group of rows in that unit.
fn sizes_in(unit: &str) -> (fn(Length) -> Decimal, &'static str) {
    match unit {
        "mm" => (|l| l.in_millimetres().round_dp(6), "Sizes in millimetres"),
        _ => (|l| l.in_inches().round_dp(6), "Sizes in inches"),
    }
}

fn block(maker: &Maker, b: &LibraryBlock) -> ShelfRow {
    let of = (&*b.key, &b.backing);
    let (size, group) = sizes_in(&b.unit);
    let sizes = [
        (("depth", "Depth", "depth"), b.block.depth),
        (("height", "Height", "height"), b.block.height),
        (("length", "Length", "length"), b.block.length),
    ];
    let mut figures: Vec<ShelfFigure> = sizes
        .into_iter()
        .map(|(named, length)| maker.figure(of, named, size(length), None, &b.unit))
        .collect();
    let cells = b
        .block
        .cells
        .saturating_mul(Decimal::ONE_HUNDRED)
        .normalize();
    figures.push(maker.figure(of, ("cells_pct", "Open cells", "cells"), cells, None, "%"));
    let weight = b
        .block
        .weight
        .map(|w| w.in_pounds().round_dp(6).normalize());
    let named = ("weight_lb", "Weight", "weight");
    figures.push(maker.figure(of, named, weight, Some(b.weight_range), "lb"));
    ShelfRow {
        kind: b.block.make.word().to_owned(),
        group,
        ..row(&b.key, &b.key, figures)
    }
}

fn task(maker: &Maker, t: &LibraryTask) -> ShelfRow {
    let (low, typical, high) = t.hours;
    let unit = match &*t.per_words {
        "each" => "h each".to_owned(),
        per => format!("h per {per}"),
    };
    let named = ("typical_h", "Person-hours", "hours");
    let of = (&*t.key, &t.backing);
    let figures = vec![maker.figure(of, named, typical, Some((low, high)), &unit)];
    ShelfRow {
        kind: match &*t.per_words {
            "each" => t.driver.word().to_owned(),
            per => format!("{per} of {}", t.driver.word()),
        },
        ..row(&t.key, &t.name, figures)
    }
}

fn figure(maker: &Maker, f: &LibraryFigure) -> ShelfRow {
    let (low, typical, high) = f.value;
    let named = ("typical", "Typical", "typical");
    let of = (&*f.key, &f.backing);
    let figures = vec![maker.figure(of, named, typical, Some((low, high)), &f.unit)];
    row(&f.key, &f.name, figures)
}

fn crop(maker: &Maker, c: &LibraryCrop) -> ShelfRow {
    let of = (&*c.key, &c.backing);
    let open = ("open_in", "Depth over open ground", "open");
    let closed = ("closed_in", "Depth over a closed bottom", "closed");
    let figures = vec![
        maker.figure(of, open, c.open, None, "in"),
        maker.figure(of, closed, c.closed, None, "in"),
    ];
    ShelfRow {
        also: c.examples.clone(),
        ..row(&c.key, &c.name, figures)
    }
}

fn caution(maker: &Maker, c: &LibraryCaution) -> ShelfRow {
    let named = ("threshold", "Mark", "mark");
    let of = (&*c.key, &c.backing);
    let figures = vec![maker.figure(of, named, c.threshold, None, &c.unit)];
    let place = match &*c.jurisdiction {
        "" => String::new(),
        place => format!(" ({place})"),
    };
    ShelfRow {
        also: c.names.clone(),
        words: format!("{}{place}", c.words).into(),
        ..row(&c.key, &c.trigger, figures)
    }
}
