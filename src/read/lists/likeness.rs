//! How like a name of a list is to a material of the job.
//!
//! Words are compared without order, in their usual spelling; a slip of the pen still counts as the
//! word. Twice what both have in common over what each has is the likeness (the coefficient of Dice),
//! in thousandths. What an estimator would never buy for the other (another species, another board
//! size, another blend) is not like at all; what one side says and the other leaves open is never taken
//! without being asked.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use super::words::{Name, Side, is_length, is_small_length};
use crate::model::library::folded;
use crate::model::material::Category;
use crate::units::System;
use crate::units::parse::{Commas, Context, length};

/// Equal names.
pub(super) const EQUAL: u32 = 1_000;
/// From here on a name is taken for the material.
pub(super) const TAKEN: u32 = 900;
/// From here on it is worth a look of the user.
pub(super) const WORTH_A_LOOK: u32 = 600;
/// The most that a likeness can be when one side says something that the other leaves open.
const OPEN: u32 = 850;
/// How like two words must be spelled to be the same with a slip.
const SAME_WORD: u32 = 800;
/// Shorter words with a slip are other words.
const SHORTEST_WITH_SLIP: usize = 5;

/// Words that say no more of lumber than its section does.
const OF_LUMBER: [&str; 6] = ["board", "lumber", "plank", "post", "stick", "timber"];

/// A material that the job wants to buy.
#[derive(Clone, Debug)]
pub(in crate::read) struct Wanted {
    /// Its name in the job.
    pub(super) name: Arc<str>,
    /// Its specification, when the job asks for one.
    pub(super) spec: Option<Arc<str>>,
    /// Its category.
    pub(in crate::read) category: Category,
    names: Vec<Name>,
    keys: Vec<String>,
    /// What the job itself says of properties.
    said: BTreeMap<&'static str, BTreeSet<String>>,
    section: Option<String>,
}

/// How like, and what is open between the two.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Likeness {
    /// In thousandths.
    pub(super) thousandths: u32,
    /// Why it cannot be taken without a word of the user, when something is open.
    pub(super) open: Option<String>,
}

impl Wanted {
    /// A material under its own name, other names of the trade for it, and its board size.
    pub(in crate::read) fn new(
        name: &Arc<str>,
        spec: Option<&Arc<str>>,
        category: Category,
        others: &[Arc<str>],
        section: Option<&str>,
    ) -> Self {
        let own = Name::of(name, false);
        let mut said = own.telling.clone();
        let of_spec = spec.map(|spec| Name::of(spec, false)).unwrap_or_default();
        for (property, words) in of_spec.telling {
            said.entry(property).or_default().extend(words);
        }
        let section = section.and_then(|s| Name::of(s, false).section());
        let all = std::iter::once(name).chain(others);
        Self {
            keys: all.map(|name| folded(name)).collect(),
            name: Arc::clone(name),
            spec: spec.cloned(),
            category,
            section: section.or_else(|| own.section()),
            names: std::iter::once(own)
                .chain(others.iter().map(|other| Name::of(other, false)))
                .collect(),
            said,
        }
    }

    /// Whether it goes by this name in the job or in the trade.
    pub(super) fn is_called(&self, name: &str) -> bool {
        self.keys.contains(&folded(name))
    }

    /// How like a name of a list is; `None` when it is something else. `spec` are words of a column of
    /// its own.
    pub(super) fn likeness(&self, theirs: &Name, spec: &Name) -> Option<Likeness> {
        let each = self.names.iter();
        let each = each.filter_map(|ours| self.likeness_of(ours, theirs, spec));
        // The first of equals: the job's own name.
        each.reduce(|best, next| {
            if next.thousandths > best.thousandths {
                next
            } else {
                best
            }
        })
    }

    fn likeness_of(&self, ours: &Name, theirs: &Name, spec: &Name) -> Option<Likeness> {
        let is_lumber = self.category == Category::Lumber;
        let their_section = if is_lumber { theirs.section() } else { None };
        let mut open = None;
        match (self.section.as_ref().filter(|_| is_lumber), &their_section) {
            (Some(a), Some(b)) if a != b => return None,
            (Some(a), None) => open = Some(format!("the list does not say the size {a}")),
            (None, Some(b)) => open = Some(format!("the job does not say the size {b}")),
            _ => {}
        }
        let told = self.telling_apart(ours, theirs, spec).ok()?;
        // What the job's own name says of size or share must be in the list, whatever the trade calls it.
        let own = self.names.first().map(|own| self.sizes(own));
        let asked = own.filter(|own| !own.is_empty());
        let asked = asked.unwrap_or_else(|| self.sizes(ours));
        let sizes = compare(&asked, &self.sizes(theirs), "size or number").ok()?;
        open = open.or(told).or(sizes);
        let mut alike = alike(
            &tokens(ours, self.section.as_ref(), self.category),
            &tokens(theirs, their_section.as_ref(), self.category),
        );
        if open.is_some() {
            alike = alike.min(OPEN);
        }
        Some(Likeness {
            thousandths: alike,
            open,
        })
    }

    /// What is open when only one side speaks of it.
    fn telling_apart(
        &self,
        ours: &Name,
        theirs: &Name,
        spec: &Name,
    ) -> Result<Option<String>, Another> {
        let mut open = None;
        let properties: BTreeSet<&str> =
            [&ours.telling, &self.said, &theirs.telling, &spec.telling]
                .into_iter()
                .flat_map(|telling| telling.keys().copied())
                .collect();
        let none = BTreeSet::new();
        for property in properties {
            let of = |telling: &BTreeMap<&'static str, BTreeSet<String>>| -> BTreeSet<String> {
                telling.get(property).unwrap_or(&none).clone()
            };
            let said: BTreeSet<String> = of(&theirs.telling)
                .union(&of(&spec.telling))
                .cloned()
                .collect();
            let asked = of(&self.said);
            // What the trade says of it without the job's saying so is as good as said: screened
            // topsoil is topsoil. What the job says itself must be in the list.
            let granted: BTreeSet<String> = of(&ours.telling).union(&asked).cloned().collect();
            let found = if asked.is_empty() && !said.is_empty() && said.is_subset(&granted) {
                None
            } else {
                compare(&asked, &said, property)?
            };
            open = open.or(found);
        }
        Ok(open)
    }

    /// Numbers, and lengths that are the size of the thing and not of its pack.
    fn sizes(&self, name: &Name) -> BTreeSet<String> {
        let mut sizes = name.numbers.clone();
        let in_rolls = matches!(
            self.category,
            Category::Sheet | Category::Liner | Category::Mesh
        );
        let lengths = name.amounts.iter().filter(|side| {
            side.unit.is_some_and(|unit| match self.category {
                Category::Lumber => false,
                _ if in_rolls => is_small_length(unit),
                _ => is_length(unit),
            })
        });
        sizes.extend(lengths.map(measured));
        if self.category == Category::Lumber {
            // `2x10 8 cedar` and `2x10-8`: the number is the length of the stick.
            sizes.retain(|number| number.contains(['/', '%']));
        } else if !in_rolls {
            let blocks = name.sizes.iter();
            sizes.extend(blocks.map(|block| {
                let texts: Vec<String> = block.iter().map(|s| s.text("")).collect();
                texts.join("x")
            }));
        }
        sizes
    }
}

/// A length in one spelling, whatever it was typed in.
fn measured(side: &Side) -> String {
    let context = Context {
        bare: side.unit,
        system: System::Metric,
        decimal_comma: Commas::Thousands,
    };
    match length(&side.number, &context) {
        Ok(length) => length.in_metres().normalize().to_string(),
        Err(_) => side.text(""),
    }
}

/// Both speak, and of other things.
struct Another;

/// What is open when only one speaks, or speaks of more.
fn compare(
    ours: &BTreeSet<String>,
    theirs: &BTreeSet<String>,
    what: &str,
) -> Result<Option<String>, Another> {
    if ours == theirs {
        return Ok(None);
    }
    if !ours.is_empty() && !theirs.is_empty() && ours.is_disjoint(theirs) {
        return Err(Another);
    }
    let more = theirs.difference(ours).next();
    let less = ours.difference(theirs).next();
    Ok(match (more, less) {
        (Some(more), _) => Some(format!("the list says {what} \"{more}\", the job does not")),
        (None, Some(less)) => Some(format!("the job says {what} \"{less}\", the list does not")),
        (None, None) => None,
    })
}

/// The words that are compared. Every stick of lumber may be called a board or a post.
fn tokens(name: &Name, section: Option<&String>, category: Category) -> Vec<String> {
    let says_nothing =
        |word: &&String| category == Category::Lumber && OF_LUMBER.contains(&word.as_str());
    let words = name.words.iter().filter(|word| !says_nothing(word));
    words.chain(section).cloned().collect()
}

/// The coefficient of Dice of two lists of words, without regard to order, in thousandths.
fn alike(ours: &[String], theirs: &[String]) -> u32 {
    let theirs = joined(theirs, ours);
    let ours = joined(ours, &theirs);
    let mut pairs: Vec<(u32, usize, usize)> = Vec::new();
    for (i, a) in ours.iter().enumerate() {
        for (j, b) in theirs.iter().enumerate() {
            let same = same_word(a, b);
            if same >= SAME_WORD {
                pairs.push((same, i, j));
            }
        }
    }
    pairs.sort_by(|a, b| b.0.cmp(&a.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let (mut left, mut right) = (BTreeSet::new(), BTreeSet::new());
    let mut common = 0_u32;
    for (same, i, j) in pairs {
        if !left.contains(&i) && !right.contains(&j) {
            left.insert(i);
            right.insert(j);
            common = common.saturating_add(same);
        }
    }
    let all = u32::try_from(ours.len().saturating_add(theirs.len())).unwrap_or(u32::MAX);
    common.saturating_mul(2).checked_div(all).unwrap_or(0)
}

/// Two words that are one on the other side become one: `top soil`.
fn joined(words: &[String], other: &[String]) -> Vec<String> {
    let mut joined: Vec<String> = Vec::with_capacity(words.len());
    for word in words {
        if let Some(last) = joined.last_mut() {
            let together = format!("{last}{word}");
            if other.contains(&together) {
                *last = together;
                continue;
            }
        }
        joined.push(word.clone());
    }
    joined
}

/// How like two words are spelled, in thousandths; telling words and numbers are equal or other ones.
fn same_word(a: &str, b: &str) -> u32 {
    if a == b {
        return EQUAL;
    }
    let exact = |word: &str| {
        word.chars().any(|c| !c.is_alphabetic()) || super::vocabulary::meaning(word).is_some()
    };
    let longest = a.chars().count().max(b.chars().count());
    if exact(a) || exact(b) || longest < SHORTEST_WITH_SLIP {
        return 0;
    }
    let slips = strsim::damerau_levenshtein(a, b).saturating_mul(1_000);
    let lost = slips.checked_div(longest).unwrap_or(1_000);
    EQUAL.saturating_sub(u32::try_from(lost).unwrap_or(EQUAL))
}
