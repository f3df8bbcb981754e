//! The `Take-off` sheet: what one bed of each kind is and needs, layer by layer, before packs.

use super::super::formats::{Digits, Style};
use super::super::layout::{MOST_ROWS, TAKE_OFF};
use super::page::Page;
use super::{Book, WriteError, words};
use crate::model::job::Job;
use crate::takeoff::{AreaKind, KindId, LayerTakeOff, Need, TakeOff};
use crate::units::round::tidy15;
use crate::units::{Amount, Decimal, Dimension, Length, System};

/// Widths of the columns, in characters.
const WIDTHS: [usize; 9] = [28, 6, 34, 24, 12, 12, 12, 12, 12];
/// First column of figures.
const FIGURES: u16 = 4;

/// A kind of bed, or an area, with its take-off.
#[derive(Clone)]
struct Kind<'a> {
    names: String,
    count: Decimal,
    takeoff: &'a TakeOff,
}

/// The sheet, written from the top down: it streams when it is long.
struct Down<'p, 'a> {
    page: &'p mut Page<'a>,
    row: u32,
    system: System,
}

/// Writes the tables below the sheet's blocks.
pub(super) fn write(book: &Book<'_>, page: &mut Page<'_>) -> Result<(), WriteError> {
    for (column, width) in (0_u16..).zip(WIDTHS) {
        page.widen(column, width)?;
    }
    let (kinds, areas) = (kinds(book), areas(book));
    let mut down = Down {
        page,
        row: book.figures.layout.own(TAKE_OFF).map_or(3, |p| p.free),
        system: book.estimate.job.settings.units.value,
    };
    down.kinds(&kinds)?;
    down.shared_walls(book)?;
    down.areas(&areas)?;
    let both: Vec<Kind<'_>> = kinds.iter().chain(&areas).cloned().collect();
    down.needs(book, &both)?;
    down.layers(&kinds)
}

fn kinds<'a>(book: &'a Book<'_>) -> Vec<Kind<'a>> {
    let estimate = book.estimate;
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    let kind = |(index, (kind, takeoff)): (usize, (&crate::takeoff::BedKind, &'a TakeOff))| Kind {
        names: words::beds_of(estimate, KindId::of(index)),
        count: kind.count,
        takeoff,
    };
    pairs.enumerate().map(kind).collect()
}

fn areas<'a>(book: &'a Book<'_>) -> Vec<Kind<'a>> {
    let estimate = book.estimate;
    let first = estimate.kinds.kinds.len();
    let pairs = estimate.kinds.areas.iter();
    let pairs = pairs.zip(estimate.takeoffs.iter().skip(first));
    let kind = |(kind, takeoff): (&AreaKind, &'a TakeOff)| {
        let area = estimate.job.areas.get(kind.area.index());
        Kind {
            names: area.map_or_else(String::new, |a| a.name.to_string()),
            count: Decimal::ONE,
            takeoff,
        }
    };
    pairs.map(kind).collect()
}

/// The walls that two beds share, by the names of both.
fn shared(job: &Job) -> Vec<(&str, &str, Length)> {
    let beds = job.beds.iter();
    let all = beds.flat_map(|bed| bed.joins.iter().map(move |join| (bed, join)));
    let borne = all.filter(|(_, join)| join.bears);
    let named = borne.filter_map(|(bed, join)| {
        let with = job.beds.get(join.with.index())?;
        Some((&*bed.name, &*with.name, join.length))
    });
    let mut all: Vec<_> = named.collect();
    all.sort_unstable();
    all
}

impl Down<'_, '_> {
    /// Heading and headers; a header with a unit stands over figures.
    fn head(&mut self, heading: &str, titles: &[(&str, Option<&str>)]) -> Result<(), WriteError> {
        self.page.words(self.row, 0, heading, Style::Heading)?;
        self.row += 1;
        for (column, (title, unit)) in (0_u16..).zip(titles) {
            let (title, style) = match unit {
                None => ((*title).to_owned(), Style::Head),
                Some("") => ((*title).to_owned(), Style::HeadNumber),
                Some(unit) => (format!("{title}, {unit}"), Style::HeadNumber),
            };
            self.page.words(self.row, column, &title, style)?;
        }
        self.row += 1;
        Ok(())
    }

    /// Rows that a table may take so that tables of `after` rows still fit below it.
    fn room(&self, wanted: usize, after: usize) -> usize {
        let left = MOST_ROWS.saturating_sub(self.row).saturating_sub(12);
        let left = usize::try_from(left).unwrap_or(0);
        if wanted.saturating_add(after) <= left {
            wanted
        } else {
            wanted.min(left / 2)
        }
    }

    fn said_when_cut(&mut self, left: usize) -> Result<(), WriteError> {
        if left > 0 {
            let words = format!("The sheet is full: {left} more rows are in the CSV file only.");
            self.page.words(self.row, 0, &words, Style::Alert)?;
            self.row += 1;
        }
        self.row += 2;
        Ok(())
    }

    fn start(&mut self, kind: &Kind<'_>) -> Result<(), WriteError> {
        self.page.words(self.row, 0, &kind.names, Style::Words)?;
        let at = (self.row, 1);
        let count = kind.count;
        self.page.figure(at, count, Style::Plain, Digits::Fixed(0))
    }

    /// A quantity before packs: the sheet shows it, no formula reads it.
    fn quantity(&mut self, column: u16, amount: Amount) -> Result<(), WriteError> {
        let number = tidy15(self.system.number(amount));
        let at = (self.row, column);
        let digits = match amount {
            Amount::Count(_) if number.fract().is_zero() => 0,
            Amount::Volume(_) => 3,
            _ => 1,
        };
        self.page
            .figure(at, number, Style::Plain, Digits::Fixed(digits))
    }

    fn kinds(&mut self, kinds: &[Kind<'_>]) -> Result<(), WriteError> {
        let area = self.system.unit(Dimension::Area);
        let weight = self.system.unit(Dimension::Weight);
        let titles = [
            ("Kind of bed", None),
            ("Beds", Some("")),
            ("Size", None),
            ("", None),
            ("Inside", Some(area)),
            ("Filled to", Some("")),
            ("Sinks by autumn", Some("")),
            ("Fill when soaked", Some(weight)),
            ("Soaked, for each area", Some("")),
        ];
        self.head("Kinds of bed", &titles)?;
        let rows: usize = kinds
            .iter()
            .map(|k| k.takeoff.needs.len() + k.takeoff.layers.len())
            .sum();
        let room = self.room(kinds.len(), rows);
        for kind in kinds.iter().take(room) {
            self.kind(kind)?;
            self.row += 1;
        }
        self.said_when_cut(kinds.len() - room)
    }

    fn kind(&mut self, kind: &Kind<'_>) -> Result<(), WriteError> {
        self.start(kind)?;
        let (takeoff, system) = (kind.takeoff, self.system);
        self.page.words(self.row, 2, &takeoff.size, Style::Words)?;
        self.quantity(FIGURES, Amount::Area(takeoff.inside_area))?;
        let depths = [takeoff.fill_height, takeoff.sink];
        for (column, depth) in (FIGURES + 1..).zip(depths) {
            let text = system.depth(depth);
            self.page.words(self.row, column, &text, Style::Right)?;
        }
        let weight = tidy15(system.number(Amount::Weight(takeoff.saturated_weight)));
        let at = (self.row, FIGURES + 3);
        self.page
            .figure(at, weight, Style::Plain, Digits::Fixed(0))?;
        let area = system.number(Amount::Area(takeoff.inside_area));
        if let Some(load) = weight.checked_div(area) {
            let units = (system.unit(Dimension::Weight), system.unit(Dimension::Area));
            let load = crate::units::show::grouped(load, 0);
            let text = format!("{load} {}/{}", units.0, units.1);
            self.page
                .words(self.row, FIGURES + 4, &text, Style::Right)?;
        }
        Ok(())
    }

    /// Each wall once, with the bed that builds it; nothing where no beds share any.
    fn shared_walls(&mut self, book: &Book<'_>) -> Result<(), WriteError> {
        let walls = shared(&book.estimate.job);
        if walls.is_empty() {
            return Ok(());
        }
        let titles = [
            ("Bed that builds it", None),
            ("", None),
            ("Bed that leaves it out", None),
            ("", None),
            ("Wall", Some(self.system.unit(Dimension::Length))),
        ];
        self.head("Walls that two beds share", &titles)?;
        let room = self.room(walls.len(), walls.len());
        for (builds, leaves, length) in walls.iter().take(room) {
            self.page.words(self.row, 0, builds, Style::Words)?;
            self.page.words(self.row, 2, leaves, Style::Words)?;
            self.quantity(FIGURES, Amount::Length(*length))?;
            self.row += 1;
        }
        self.said_when_cut(walls.len() - room)
    }

    /// Nothing where the job has no areas.
    fn areas(&mut self, areas: &[Kind<'_>]) -> Result<(), WriteError> {
        if areas.is_empty() {
            return Ok(());
        }
        let (area, volume) = (Dimension::Area, Dimension::Volume);
        let titles = [
            ("Path or surround", None),
            ("", None),
            ("Size", None),
            ("", None),
            ("Covered", Some(self.system.unit(area))),
            ("Spoil", Some(self.system.unit(volume))),
        ];
        self.head("Paths and surrounds", &titles)?;
        let rows: usize = areas.iter().map(|k| k.takeoff.needs.len()).sum();
        let room = self.room(areas.len(), rows);
        for area in areas.iter().take(room) {
            let takeoff = area.takeoff;
            self.page.words(self.row, 0, &area.names, Style::Words)?;
            self.page.words(self.row, 2, &takeoff.size, Style::Words)?;
            self.quantity(FIGURES, Amount::Area(takeoff.outside_area))?;
            self.quantity(FIGURES + 1, Amount::Volume(takeoff.spoil))?;
            self.row += 1;
        }
        self.said_when_cut(areas.len() - room)
    }

    fn needs(&mut self, book: &Book<'_>, kinds: &[Kind<'_>]) -> Result<(), WriteError> {
        let titles = [
            ("Kind of bed", None),
            ("Beds", Some("")),
            ("What for", None),
            ("Material", None),
            ("In one bed", Some("")),
            ("To order for one bed", Some("")),
            ("To order for all", Some("")),
            ("Unit", None),
        ];
        self.head("What the beds need", &titles)?;
        let wanted: usize = kinds.iter().map(|k| k.takeoff.needs.len()).sum();
        let layers = kinds.iter().map(|k| k.takeoff.layers.len()).sum();
        let room = self.room(wanted, layers);
        let needs = kinds
            .iter()
            .flat_map(|k| k.takeoff.needs.iter().map(move |need| (k, need)));
        for (kind, need) in needs.take(room) {
            self.need(book, kind, need)?;
            self.row += 1;
        }
        self.said_when_cut(wanted - room)
    }

    fn need(&mut self, book: &Book<'_>, kind: &Kind<'_>, need: &Need) -> Result<(), WriteError> {
        self.start(kind)?;
        let part = words::part(need.part, &kind.takeoff.layers);
        let material = book.estimate.job.material_name(need.material);
        self.page.words(self.row, 2, &part, Style::Words)?;
        self.page.words(self.row, 3, material, Style::Words)?;
        let amounts = [need.net, need.order, need.order.times(kind.count)];
        for (column, amount) in (FIGURES..).zip(amounts) {
            self.quantity(column, amount)?;
        }
        let unit = match need.order {
            Amount::Count(_) => "each",
            other => self.system.unit(other.dimension()),
        };
        self.page.words(self.row, FIGURES + 3, unit, Style::Words)
    }

    fn layers(&mut self, kinds: &[Kind<'_>]) -> Result<(), WriteError> {
        let volume = self.system.unit(Dimension::Volume);
        let titles = [
            ("Kind of bed", None),
            ("Beds", Some("")),
            ("Layer", None),
            ("Material", None),
            ("Depth", Some("")),
            ("In place", Some(volume)),
            ("Runs into voids below", Some(volume)),
            ("To order", Some(volume)),
            ("First season takes", Some(volume)),
        ];
        self.head("Layers of fill in one bed", &titles)?;
        let wanted: usize = kinds.iter().map(|k| k.takeoff.layers.len()).sum();
        let room = self.room(wanted, 0);
        let layers = kinds.iter().flat_map(|k| {
            let layers = k.takeoff.layers.iter().enumerate();
            layers.map(move |(index, layer)| (k, index, layer))
        });
        for (kind, index, layer) in layers.take(room) {
            self.layer((kind, index), layer)?;
            self.row += 1;
        }
        self.said_when_cut(wanted - room)
    }

    fn layer(
        &mut self,
        (kind, index): (&Kind<'_>, usize),
        layer: &LayerTakeOff,
    ) -> Result<(), WriteError> {
        self.start(kind)?;
        let place = format!("{} from the bottom", index + 1);
        self.page.words(self.row, 2, &place, Style::Words)?;
        self.page.words(self.row, 3, &layer.name, Style::Words)?;
        let depth = match layer.sheets {
            0 => self.system.depth(layer.depth),
            1 => "1 sheet".to_owned(),
            n => format!("{n} sheets"),
        };
        self.page.words(self.row, FIGURES, &depth, Style::Right)?;
        // A sheet has an area and no volume to speak of.
        if layer.sheets > 0 {
            return Ok(());
        }
        let volumes = [layer.volume, layer.infill, layer.order, layer.season_loss];
        for (column, volume) in (FIGURES + 1..).zip(volumes) {
            self.quantity(column, Amount::Volume(volume))?;
        }
        Ok(())
    }
}
