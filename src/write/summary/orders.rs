//! What to buy: how much in all, in how many loads, and the dearest lines.

use std::cmp::Ordering;

use super::Page;
use crate::buying::{OrderLine, Scope};
use crate::model::offer::Offer;
use crate::takeoff::Moment;
use crate::units::{Amount, show};
use crate::write::columns::{pad, pad_left, width};
use crate::write::names::by_name;

/// Columns of a supplier's name.
const MOST_SELLER: usize = 20;
/// Columns of an amount, unless it needs more.
const AMOUNT: usize = 11;

impl Page<'_> {
    /// The heading, and the dearest lines, which are worth a second look. Lines without a price were
    /// told above.
    pub(super) fn orders(&self, most: usize) -> Vec<String> {
        let mut lines: Vec<&OrderLine> = self.estimate.bought.lines.iter().collect();
        lines.sort_by(|a, b| self.order_of(a, b));
        let dearest = if lines.iter().any(|line| line.price.is_some()) {
            "dearest"
        } else {
            "first"
        };
        let all = lines.len();
        let mut title = match all {
            0 => "To buy: nothing".to_owned(),
            1 => "To buy: 1 line".to_owned(),
            n => format!("To buy: {n} lines"),
        };
        if let Some(loads) = self.loads() {
            title = format!("{title}; {loads}");
        }
        if all > most {
            title = format!("{title}; the {dearest} {most} of sheet Orders");
        }
        let mut told = vec![self.heading(&title)];
        told.extend(lines.iter().take(most).map(|line| self.order(line)));
        told
    }

    /// All loads, and how many they would be after rain. Without a vehicle nobody knows the loads; a
    /// caution says so.
    fn loads(&self) -> Option<String> {
        let trips = self.estimate.bought.trips.iter();
        let trips = trips.filter(|t| t.vehicle.is_some());
        let (dry, wet) = trips.fold((0_usize, 0_u32), |(dry, wet), t| {
            (dry + t.loads.len(), wet.saturating_add(t.after_rain))
        });
        let loads = if dry == 1 { "load" } else { "loads" };
        let (dry, wet) = (show::grouped(dry.into(), 0), show::grouped(wet.into(), 0));
        (dry != "0").then(|| format!("{dry} {loads}, after rain {wet}"))
    }

    fn order_of(&self, a: &OrderLine, b: &OrderLine) -> Ordering {
        let material = |l: &OrderLine| self.names.0.material_name(l.material).to_owned();
        let cost = b.cost.cmp(&a.cost).then_with(|| a.free.cmp(&b.free));
        cost.then_with(|| by_name(&material(a), &material(b)))
            .then_with(|| by_name(&self.place_of(a), &self.place_of(b)))
            .then_with(|| a.quantity.cmp(&b.quantity))
            .then_with(|| a.offer.cmp(&b.offer))
    }

    /// Where it goes and when, if the job has more than one drop: ` to North lot, top-up`.
    fn place_of(&self, line: &OrderLine) -> String {
        let place = match line.scope {
            Scope::Drop(site, phase) => self.names.drop(site, phase),
            Scope::Job => String::new(),
        };
        let to = if place.is_empty() { "" } else { " to " };
        let topping = match line.moment {
            Moment::Build => "",
            Moment::TopUp => ", top-up",
        };
        format!("{to}{place}{topping}")
    }

    /// `  8.5 yards of Garden blend to Front court   Creek Yard          391.00`
    fn order(&self, line: &OrderLine) -> String {
        let offer = line.offer.and_then(|id| self.names.offer(id));
        let material = self.names.0.material_name(line.material);
        let goods = match offer {
            Some(offer) => {
                let packs = show::packs(line.quantity, &offer.pack);
                // "36 2x10 cedar" reads as one number too many.
                let of = match (
                    packs.contains(' '),
                    material.starts_with(|c: char| c.is_ascii_digit()),
                ) {
                    (true, _) => "of ",
                    (false, true) if packs == "1" => "piece of ",
                    (false, true) => "pieces of ",
                    (false, false) => "",
                };
                format!("{packs} {of}{material}{}", self.size_of(offer))
            }
            None => match line.need {
                Amount::Count(_) => format!("{} {material}", self.system().amount(line.need)),
                other => format!("{} of {material}", self.system().amount(other)),
            },
        };
        let cost = match line.price {
            _ if line.free => "free".to_owned(),
            None => "no price".to_owned(),
            Some(_) => self.money(line.cost),
        };
        let seller = offer.map_or("", |offer| self.names.supplier(offer.supplier));
        let goods = format!("{goods}{}", self.place_of(line));
        // An amount is never cut: the goods give way.
        let amount = width(&cost).max(AMOUNT);
        let left = self.screen.width.saturating_sub(MOST_SELLER + amount + 4);
        format!(
            "  {} {} {}",
            pad(&goods, left),
            pad(seller, MOST_SELLER),
            pad_left(&cost, amount),
        )
    }

    /// How long a stick is: a board without its length cannot be ordered.
    fn size_of(&self, offer: &Offer) -> String {
        match offer.holds {
            Amount::Length(length) => format!(", {}", self.system().length(length)),
            _ => String::new(),
        }
    }
}
