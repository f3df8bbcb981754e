//! Which material of the job a row of a list is, when it is one.

use super::confirmed::{Confirmed, Word};
use super::likeness::{EQUAL, Likeness, TAKEN, WORTH_A_LOOK, Wanted};
use super::words::Name;
use crate::model::library::folded;

/// Two materials that are as like as this, in thousandths, cannot be told apart by likeness.
const TOO_CLOSE: u32 = 50;

/// How a row came to be taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum By {
    /// It has the name, or the same words in another order or spelling.
    Name,
    /// The user said so.
    Word,
    /// By likeness.
    Likeness,
}

/// What a row of a list is to the job.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// The material at this place among those wanted.
    Is(usize, By, u32),
    /// Perhaps one of these, most like first; why it was not taken.
    Perhaps(Vec<(usize, u32)>, String),
    /// Nothing that the job needs, as far as names tell; what it is most like, if anything.
    Unlike(Option<(usize, u32)>),
    /// Nothing that the job needs, as the user said.
    Never,
}

/// Judges one row: by what the user said, by name, by likeness.
pub(super) fn judge(
    name: &str,
    (parsed, spec): (&Name, &Name),
    wanted: &[Wanted],
    confirmed: &Confirmed,
    supplier: &str,
) -> Verdict {
    match confirmed.word(supplier, name) {
        Some(Word::Never) => return Verdict::Never,
        Some(Word::Is(material)) => {
            let named = |w: &Wanted| folded(&w.name) == folded(material);
            let own = wanted.iter().position(named);
            let place = own.or_else(|| wanted.iter().position(|w| w.is_called(material)));
            return place.map_or(Verdict::Never, |place| Verdict::Is(place, By::Word, EQUAL));
        }
        None => {}
    }
    let same = wanted.iter().position(|w| folded(&w.name) == folded(name));
    if let Some(place) = same {
        // A column of its own may still say another grade.
        let open = wanted
            .get(place)
            .and_then(|w| Some((w.likeness(parsed, spec)?, place)));
        match open {
            Some((Likeness { open: None, .. }, place)) => {
                return Verdict::Is(place, By::Name, EQUAL);
            }
            Some((like, place)) => {
                return Verdict::Perhaps(vec![(place, like.thousandths)], reason(&like));
            }
            None => return Verdict::Unlike(None),
        }
    }
    let mut likes: Vec<(usize, Likeness)> = wanted
        .iter()
        .enumerate()
        .filter_map(|(place, w)| Some((place, w.likeness(parsed, spec)?)))
        .filter(|(_, like)| like.thousandths > 0)
        .collect();
    let name_of = |place: usize| wanted.get(place).map(|w| &w.name);
    likes.sort_by(|(a, one), (b, other)| {
        let by_likeness = other.thousandths.cmp(&one.thousandths);
        by_likeness.then_with(|| name_of(*a).cmp(&name_of(*b)))
    });
    decided(&likes)
}

/// What becomes of a row that is like these, most like first.
fn decided(likes: &[(usize, Likeness)]) -> Verdict {
    let close = likes.partition_point(|(_, like)| like.thousandths >= WORTH_A_LOOK);
    let (likes, unlike) = likes.split_at(close);
    let Some((place, best)) = likes.first() else {
        let most = unlike.first();
        return Verdict::Unlike(most.map(|(place, like)| (*place, like.thousandths)));
    };
    let second = likes.get(1).map_or(0, |(_, like)| like.thousandths);
    let is_equal = best.thousandths == EQUAL && second < EQUAL;
    let is_alone = best.thousandths.saturating_sub(second) > TOO_CLOSE;
    if best.thousandths >= TAKEN && best.open.is_none() && (is_equal || is_alone) {
        let by = if best.thousandths == EQUAL {
            By::Name
        } else {
            By::Likeness
        };
        return Verdict::Is(*place, by, best.thousandths);
    }
    let why = if best.thousandths >= TAKEN {
        "two materials of the job are as like".to_owned()
    } else {
        reason(best)
    };
    let all = likes.iter().map(|(place, like)| (*place, like.thousandths));
    Verdict::Perhaps(all.collect(), why)
}

fn reason(like: &Likeness) -> String {
    let plain = || format!("likeness is under {}", shown(TAKEN));
    like.open.clone().unwrap_or_else(plain)
}

/// Thousandths as a number: `0.96`.
pub(super) fn shown(thousandths: u32) -> String {
    let hundredths = thousandths.div_euclid(10);
    format!(
        "{}.{:02}",
        hundredths.div_euclid(100),
        hundredths.rem_euclid(100)
    )
}
