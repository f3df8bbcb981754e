//! What a job holds for a cell: the reading of one column of one row, wherever the model keeps it.

use loamwright::model::bed::{Bed, Measured, Shape};
use loamwright::model::fill::Depth;
use loamwright::model::job::Job;
use loamwright::model::known::Known;
use loamwright::model::offer::Offer;
use loamwright::model::sheet::Sheet;
use loamwright::read::Loaded;
use loamwright::read::fields;
use loamwright::units::{Amount, Area, Decimal, Density, Hours, Length, Volume, Weight};

use crate::stated::Reading;

/// A path such as `Beds A Length`: a sheet, the name of a row, a column.
pub(crate) fn reading(loaded: &Loaded, path: &str) -> Result<Reading, String> {
    let (sheet, rest) = Sheet::ALL
        .into_iter()
        .find_map(|s| Some((s, path.strip_prefix(s.title())?.strip_prefix(' ')?)))
        .ok_or_else(|| format!("{path} does not begin with the name of a sheet"))?;
    let job = &loaded.job;
    if sheet == Sheet::Job {
        return setting(job, rest).ok_or_else(|| format!("{path} is not known to these tests"));
    }
    let fields = fields::of(sheet).iter();
    let ending = |field: &&&str| rest.strip_suffix(**field).is_some_and(|r| r.ends_with(' '));
    let field = fields
        .filter(ending)
        .max_by_key(|f| f.len())
        .ok_or_else(|| format!("{path} does not end with a column of {}", sheet.title()))?;
    let name = rest.strip_suffix(field).unwrap_or(rest).trim_end();
    let found = match sheet {
        Sheet::Beds => named(&job.beds, name, |b| &b.name).and_then(|b| bed(b, field)),
        Sheet::Prices => offer_of(job, name).and_then(|o| offer(o, field)),
        Sheet::Sites => site(job, name, field),
        Sheet::Materials => material(job, name, field),
        Sheet::Deliveries => vehicle(job, name, field),
        Sheet::Workers => worker(job, name, field),
        Sheet::Fills => layer(job, name, field),
        Sheet::Extras => extra(job, name, field),
        Sheet::Labour => named(&job.tasks, name, |t| &t.name).map(|t| plain(t.rate.value)),
        Sheet::Mixes => part(job, name),
        _ => None,
    };
    let found = found.or_else(|| as_typed(loaded, sheet, name, field));
    found.ok_or_else(|| format!("{path}: no such row was read"))
}

/// The text of the cell, for columns that are kept as typed.
fn as_typed(loaded: &Loaded, sheet: Sheet, name: &str, field: &'static str) -> Option<Reading> {
    loaded.sources.of(sheet).find_map(|(_, table)| {
        let position = |f| table.columns.iter().position(|c| c.field == Some(f));
        let key = position(fields::of(sheet)[0])?;
        let row = table.rows.iter().find(|r| r.cells[key].text() == name)?;
        let text = position(field).map_or_else(String::new, |p| row.cells[p].text());
        Some(if text.is_empty() {
            Reading::Nothing
        } else {
            Reading::Words(text)
        })
    })
}

fn named<'a, T>(list: &'a [T], name: &str, of: impl Fn(&T) -> &str) -> Option<&'a T> {
    list.iter().find(|one| of(one) == name)
}

fn maybe<T>(value: Option<T>, of: impl Fn(T) -> Reading) -> Reading {
    value.map_or(Reading::Nothing, of)
}

fn known<T: Copy>(value: Option<&Known<T>>, of: impl Fn(T) -> Reading) -> Reading {
    maybe(value, |known| of(known.value))
}

fn long(length: Length) -> Reading {
    Reading::Measured(length.in_metres(), "m")
}

fn time(hours: Hours) -> Reading {
    Reading::Measured(hours.in_hours(), "h")
}

fn volume(volume: Volume) -> Reading {
    Reading::Measured(volume.in_cubic_metres(), "m3")
}

fn weight(weight: Weight) -> Reading {
    Reading::Measured(weight.in_kilograms(), "kg")
}

fn density(density: Density) -> Reading {
    Reading::Measured(density.in_kilograms_per_cubic_metre(), "kg/m3")
}

fn area(area: Area) -> Reading {
    Reading::Measured(area.in_square_metres(), "m2")
}

fn plain(number: Decimal) -> Reading {
    Reading::Plain(number)
}

fn count(number: u32) -> Reading {
    Reading::Plain(number.into())
}

fn words(text: &str) -> Reading {
    Reading::Words(text.to_owned())
}

fn amount(amount: Amount) -> Reading {
    match amount {
        Amount::Count(n) => plain(n),
        Amount::Length(l) => long(l),
        Amount::Area(a) => area(a),
        Amount::Volume(v) => volume(v),
        Amount::Weight(w) => weight(w),
    }
}

fn bed(bed: &Bed, field: &str) -> Option<Reading> {
    Some(match field {
        "Count" => count(bed.count),
        "Height" => maybe(bed.height, long),
        "Courses" => maybe(bed.courses, count),
        "Closed bottom" => Reading::Truth(bed.closed_bottom),
        "Underside clear" => maybe(bed.underside_clear, long),
        "Slope %" => maybe(bed.slope, |s| Reading::Share(s.fall)),
        "Priority" => maybe(bed.priority, count),
        "Measured" => words(match bed.measured {
            Measured::Outside => "outside",
            Measured::Inside => "inside",
        }),
        _ => return side(&bed.shape, field),
    })
}

fn side(shape: &Shape, field: &str) -> Option<Reading> {
    match (shape, field) {
        (
            Shape::Rectangle { length, .. }
            | Shape::Triangle { length, .. }
            | Shape::Ellipse { length, .. }
            | Shape::RoundEnded { length, .. }
            | Shape::L { length, .. },
            "Length",
        ) => Some(long(*length)),
        (
            Shape::Rectangle { width, .. }
            | Shape::Triangle { width, .. }
            | Shape::Ellipse { width, .. }
            | Shape::RoundEnded { width, .. }
            | Shape::L { width, .. },
            "Width",
        ) => Some(long(*width)),
        (Shape::Circle { diameter }, "Diameter") => Some(long(*diameter)),
        (Shape::Regular { sides, .. }, "Sides") => Some(count(*sides)),
        (Shape::Regular { side, .. }, "Side") => Some(long(*side)),
        _ => None,
    }
}

fn offer_of<'a>(job: &'a Job, material: &str) -> Option<&'a Offer> {
    let mut offers = job.offers.iter();
    offers.find(|o| job.material_name(o.material) == material)
}

fn offer(offer: &Offer, field: &str) -> Option<Reading> {
    Some(match field {
        "Price" => known(offer.price.as_ref(), plain),
        "Holds" => amount(offer.holds),
        "From quantity" => plain(offer.from_quantity),
        "Step" => plain(offer.step),
        "Least quantity" => plain(offer.least),
        "Available" => maybe(offer.available, plain),
        "Actual length" => maybe(offer.actual_length, long),
        "Taxable" => Reading::Truth(offer.taxable),
        "Preferred" => Reading::Truth(offer.preferred),
        "Lead days" => maybe(offer.lead_days, count),
        "Price date" => maybe(offer.price_date, Reading::Day),
        _ => return None,
    })
}

fn setting(job: &Job, title: &str) -> Option<Reading> {
    let s = &job.settings;
    Some(match title {
        "Date" => known(s.date.as_ref(), Reading::Day),
        "Currency" => words(s.currency.value.as_str()),
        "Valid days" => count(s.valid_days.value),
        "Crown" => long(s.crown.value),
        "Freeboard" => long(s.freeboard.value),
        "Kerf" => long(s.kerf.value),
        "Culls %" => Reading::Share(s.culls.value),
        "Crew size" => count(s.crew_size.value),
        "Hours per day" => time(s.hours_per_day.value),
        "Set-up hours" => time(s.setup_hours.value),
        "Season factor" => plain(s.season_factor.value),
        "Overhead %" => Reading::Share(s.overhead.value),
        "Contingency %" => Reading::Share(s.contingency.value),
        "Profit %" => Reading::Share(s.profit.value),
        "Tax %" => Reading::Share(s.tax.value),
        "Round price to" => plain(s.round_to.value),
        "Client sees contingency" => Reading::Truth(s.client_sees_contingency.value),
        "Minimum charge" => plain(s.minimum_charge.value),
        "Job name" => words(&s.job_name),
        "Client" => maybe(s.client.as_deref(), words),
        _ => return None,
    })
}

fn site(job: &Job, name: &str, field: &str) -> Option<Reading> {
    let site = named(&job.sites, name, |s| &s.name)?;
    Some(match field {
        "Travel time" => time(site.travel.value),
        "Haul distance" => long(site.haul.value),
        "Haul slope %" => Reading::Share(site.haul_slope.value),
        "Gate width" => known(site.gate.as_ref(), long),
        "Tax %" => known(site.tax.as_ref(), Reading::Share),
        "Drop fee" => known(site.drop_fee.as_ref(), plain),
        "First day" => maybe(site.first_day, Reading::Day),
        _ => return None,
    })
}

fn material(job: &Job, name: &str, field: &str) -> Option<Reading> {
    let material = named(&job.materials, name, |m| &m.name)?;
    Some(match field {
        "Delivered density" => known(material.delivered.as_ref(), density),
        "Wet density" => known(material.wet.as_ref(), density),
        "Wet-down %" => Reading::Share(material.wet_down.value),
        "First season %" => Reading::Share(material.first_season.value),
        "Void %" => Reading::Share(material.void.value),
        "Infill %" => Reading::Share(material.infill.value),
        "Waste %" => Reading::Share(material.waste.value),
        "Roll width" => known(material.roll_width.as_ref(), long),
        "Lap" => long(material.lap.value),
        "On hand" => known(material.on_hand.as_ref(), amount),
        _ => return None,
    })
}

fn vehicle(job: &Job, name: &str, field: &str) -> Option<Reading> {
    let vehicle = named(&job.vehicles, name, |v| &v.name)?;
    Some(match field {
        "Volume limit" => known(vehicle.volume.as_ref(), volume),
        "Weight limit" => known(vehicle.weight.as_ref(), weight),
        "Fee" => known(vehicle.fee.as_ref(), plain),
        "Minimum order" => known(vehicle.minimum_order.as_ref(), plain),
        "Free over" => known(vehicle.free_over.as_ref(), plain),
        _ => return None,
    })
}

fn worker(job: &Job, name: &str, field: &str) -> Option<Reading> {
    let worker = named(&job.workers, name, |w| &w.name)?;
    Some(match field {
        "Pay rate" => known(worker.pay_rate.as_ref(), plain),
        "Burden %" => Reading::Share(worker.burden.value),
        "Charge rate" => known(worker.charge_rate.as_ref(), plain),
        "Session length" => time(worker.session.value),
        "Briefing" => time(worker.briefing.value),
        _ => return None,
    })
}

/// `Fills Deep 1 Depth`: the layers of a fill are told apart by their number from the bottom.
fn layer(job: &Job, name: &str, field: &str) -> Option<Reading> {
    let (fill, number) = name.rsplit_once(' ')?;
    let number: usize = number.parse().ok()?;
    let layers = &named(&job.fills, fill, |f| &f.name)?.layers;
    let layer = layers.get(number.checked_sub(1)?)?;
    (field == "Depth").then(|| match layer.depth {
        Depth::Fixed(depth) => long(depth),
        Depth::Rest => words("rest"),
        Depth::Share(share) => Reading::Share(share),
        Depth::Sheets(sheets) => count(sheets),
    })
}

/// `Mixes Blend Compost Parts`
fn part(job: &Job, name: &str) -> Option<Reading> {
    job.mixes.iter().find_map(|mix| {
        let material = name.strip_prefix(&*mix.name)?.trim_start();
        let mut parts = mix.parts.iter();
        let found = parts.find(|(id, _)| job.material_name(*id) == material)?;
        Some(plain(found.1))
    })
}

fn extra(job: &Job, name: &str, field: &str) -> Option<Reading> {
    let extra = named(&job.extras, name, |e| &e.item)?;
    Some(match field {
        "Quantity" => plain(extra.quantity.value),
        "Rate" => known(extra.rate.as_ref(), plain),
        "Person-hours each" => known(extra.hours.as_ref(), plain),
        "Taxable" => Reading::Truth(extra.taxable),
        "Marked up" => Reading::Truth(extra.marked_up),
        "Client sees" => Reading::Truth(extra.client_sees),
        _ => return None,
    })
}
