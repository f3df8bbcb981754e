//! What one pack holds, where a list says it in the name or in its unit of sale only.

use super::vocabulary::{Meaning, in_full, meaning};
use super::words::{Name, Side};
use crate::model::material::Category;
use crate::units::parse::{Measures, Unit, unit};
use crate::units::{Dimension, System};

/// Sides of boards up to here are inches without saying so, and the stick is in feet.
const MOST_NOMINAL: u32 = 16;
/// A third side from here on is in millimetres, below in metres.
const LEAST_MILLIMETRES: u32 = 100;

/// Pack and content as `Prices` has them.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Goods {
    /// The pack, `None` when the list does not say.
    pub(super) pack: Option<String>,
    /// What it holds, `None` when pack says it or nothing does.
    pub(super) holds: Option<String>,
}

/// Makes out pack and content; `Err` says what is not known.
///
/// `pack` and `holds` are the list's own cells. `suits` tells which amounts a material of this
/// category is measured in, and `held` what a pack's word says that it holds.
pub(super) fn goods(
    name: &Name,
    (pack, holds): (Option<&str>, Option<&str>),
    category: Category,
    system: System,
    suits: impl Fn(Dimension) -> bool,
    held: impl Fn(&str) -> Option<Dimension>,
) -> Result<Goods, String> {
    let pack = pack.map(in_our_words).or_else(|| pack_in(name, category));
    if let Some(holds) = holds {
        return Ok(Goods {
            pack,
            holds: Some(holds.to_owned()),
        });
    }
    if category == Category::Lumber && pack.as_deref().is_some_and(is_by_length) {
        return Err("it is sold by its length, and the length of a stick is not said".to_owned());
    }
    let says =
        |p: &str| held(p).is_some_and(|d| suits(d) && (d != Dimension::Count || counts(category)));
    if pack.as_deref().is_some_and(says) {
        return Ok(Goods { pack, holds: None });
    }
    let found = contents(name, category, system, &suits);
    match found.as_slice() {
        [one] => Ok(Goods {
            pack: pack
                .map(|p| bag_for_each(p, category))
                .or_else(|| in_bags(category)),
            holds: Some(one.clone()),
        }),
        [] => by_the_unit(pack, category, &suits),
        _ => Err("it is not clear which amount one pack holds".to_owned()),
    }
}

/// A unit of sale that is a unit of measure holds one of it.
fn by_the_unit(
    pack: Option<String>,
    category: Category,
    suits: &impl Fn(Dimension) -> bool,
) -> Result<Goods, String> {
    let unit = pack.as_deref().and_then(unit);
    let unit = unit.filter(|u| category != Category::Lumber && dimension(*u).is_some_and(suits));
    match unit {
        Some(unit) => Ok(Goods {
            pack,
            holds: Some(format!("1 {}", unit.symbol())),
        }),
        None if category == Category::Lumber => Err("the length of a stick is not said".to_owned()),
        None => Err("what one pack holds is not said".to_owned()),
    }
}

/// Whether boards are sold by the foot, the metre or the board foot.
fn is_by_length(pack: &str) -> bool {
    let word = pack.to_lowercase();
    let by_board_foot = matches!(
        word.as_str(),
        "bf" | "mbf" | "bdft" | "bd ft" | "board foot"
    );
    by_board_foot || unit(pack).is_some_and(|u| u.measures() == Measures::Length)
}

/// Goods that are counted, so that `each` says all.
fn counts(category: Category) -> bool {
    matches!(
        category,
        Category::ReadyMade | Category::Fastener | Category::Fitting | Category::Other
    )
}

/// A thing of fill that is sold by the piece is a bag of it.
fn bag_for_each(pack: String, category: Category) -> String {
    if pack == "each" && category.is_fill() {
        "bag".to_owned()
    } else {
        pack
    }
}

fn in_bags(category: Category) -> Option<String> {
    category.is_fill().then(|| "bag".to_owned())
}

/// Words before a unit of sale that say nothing about it: `per yd`, `/ bag`.
const PER: [&str; 4] = ["per ", "por ", "price per ", "/"];

/// The job's word for a pack: `BG` is a bag, `CY` stays a unit, `per yd` is a `yd`.
fn in_our_words(pack: &str) -> String {
    let typed = pack.trim();
    let lower = typed.to_ascii_lowercase();
    let length = PER.iter().find(|per| lower.starts_with(**per));
    let bare = typed.get(length.map_or(0, |per| per.len())..);
    let bare = bare.unwrap_or(typed).trim();
    let key = in_full(&bare.trim_end_matches('.').to_lowercase());
    match meaning(&key) {
        Some(Meaning::Pack(word)) => word.to_owned(),
        _ => bare.to_owned(),
    }
}

/// The pack that a name speaks of; a unit without a number is how loose goods are sold.
fn pack_in(name: &Name, category: Category) -> Option<String> {
    let unit = name.bare_units.first().filter(|_| category.is_fill());
    if let Some(unit) = unit {
        return Some(unit.symbol().to_owned());
    }
    let pack = name.packs.first()?;
    (*pack != "bulk" || category.is_fill()).then(|| (*pack).to_owned())
}

/// Amounts in a name that a pack may hold, each once.
fn contents(
    name: &Name,
    category: Category,
    system: System,
    suits: &impl Fn(Dimension) -> bool,
) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    if category == Category::Lumber {
        for sides in &name.sizes {
            if let [a, _, third] = sides.as_slice() {
                found.push(stick(a, third));
            }
        }
    }
    let in_rolls = matches!(category, Category::Sheet | Category::Liner | Category::Mesh);
    if in_rolls {
        let bare = match system {
            System::UsCustomary => "ft",
            System::Metric => "m",
        };
        for sides in name.sizes.iter().filter(|s| s.len() == 2) {
            let texts: Vec<String> = sides.iter().map(|s| s.text(bare)).collect();
            found.push(texts.join(" x "));
        }
    }
    for side in &name.amounts {
        let Some(dimension) = side.unit.and_then(dimension) else {
            continue;
        };
        let wanted = if category == Category::Lumber {
            dimension == Dimension::Length
        } else {
            suits(dimension)
        };
        if wanted {
            found.push(side_text(side));
        }
    }
    if category == Category::Lumber && found.is_empty() {
        // `2x10-8`: the one number beside the section is the stick.
        let mut numbers = name.numbers.iter().filter(|n| !n.contains(['/', '%']));
        if let (Some(only), None) = (numbers.next(), numbers.next())
            && let Some([a, _]) = name.sizes.first().map(Vec::as_slice)
        {
            let third = Side {
                number: only.clone(),
                unit: None,
            };
            found.push(stick(a, &third));
        }
    }
    found.sort();
    found.dedup();
    found
}

fn side_text(side: &Side) -> String {
    match side.unit {
        Some(Unit::Each) => side.number.clone(),
        _ => side.text(""),
    }
}

/// The stick of a board `2x10x8`, in feet, or of `47x225x4.8`, in metres, when it does not say.
fn stick(first: &Side, third: &Side) -> String {
    let nominal = |side: &Side| side.value().is_none_or(|v| v <= MOST_NOMINAL.into());
    let large = third.value().is_some_and(|v| v >= LEAST_MILLIMETRES.into());
    let bare = match (nominal(first), large) {
        (true, _) => "ft",
        (false, true) => "mm",
        (false, false) => "m",
    };
    third.text(bare)
}

fn dimension(unit: Unit) -> Option<Dimension> {
    // The trade's yard of loose goods is a cubic one.
    if unit == Unit::Yard {
        return Some(Dimension::Volume);
    }
    match unit.measures() {
        Measures::Length => Some(Dimension::Length),
        Measures::Area => Some(Dimension::Area),
        Measures::Volume => Some(Dimension::Volume),
        Measures::Weight => Some(Dimension::Weight),
        Measures::Count => Some(Dimension::Count),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_before_a_unit_of_sale_say_nothing() {
        for (typed, ours) in [
            ("per yd", "yd"),
            ("Per Bag", "bag"),
            ("/ bg.", "bag"),
            ("por saco", "saco"),
            ("perch", "perch"),
        ] {
            assert_eq!(in_our_words(typed), ours, "{typed}");
        }
    }
}
