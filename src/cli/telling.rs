//! Problems on a terminal: grouped, wrapped, and no more of them than fit on the screen. Anywhere
//! else they are told in full, since who sends them to a file or a program wants all of them.

use unicode_width::UnicodeWidthStr;

use crate::model::source::Sources;
use crate::problem::groups::{Group, grouped, place_after};
use crate::problem::{Problem, Severity, printable};
use crate::write::screen::Screen;

/// How much to tell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Room {
    /// Everything, in lines as long as they are.
    Endless,
    /// Everything, in lines that fit.
    All,
    /// What fits on the screen.
    OneScreen,
}

/// Lines kept for what is said below the problems, and for the next prompt.
const KEPT: usize = 5;
/// Cells that are named on a screen.
const MOST_CELLS: usize = 6;
/// Sentences longer than this are cut to their first part on a screen.
const LONG: usize = 160;
/// Keeps the words of a path together while lines are broken; no text holds it.
const TIE: char = '\u{e000}';

/// The problems as text, each line ended.
pub(super) fn told(problems: &[Problem], sources: &Sources, room: Room, screen: Screen) -> String {
    let groups = grouped(problems, sources);
    let most = match room {
        Room::OneScreen => screen.height.saturating_sub(KEPT),
        Room::Endless | Room::All => usize::MAX,
    };
    let mut text = String::new();
    let (mut lines, mut shown) = (0_usize, 0_usize);
    for group in &groups {
        let block = block(group, sources, room, screen);
        lines = lines.saturating_add(block.len());
        if shown > 0 && lines > most {
            break;
        }
        text.push_str(&screen.paint.message(group.severity(), &block.join("\n")));
        text.push('\n');
        shown = shown.saturating_add(1);
    }
    let (told, left) = groups.split_at(shown);
    if told.iter().any(|group| is_cut(group, room)) {
        text.push_str("Cut short here; local code and licensed practice decide.\n");
    }
    if !left.is_empty() {
        text.push_str(&rest(left));
    } else if told.iter().any(|group| is_cut(group, room)) {
        text.push_str("--all tells everything\n");
    }
    text
}

/// `and 3 errors, 12 notices more; --all tells everything`.
fn rest(groups: &[Group]) -> String {
    let all = || groups.iter().flat_map(Group::all);
    let part = |severity: Severity| match all().filter(|p| p.severity == severity).count() {
        0 => None,
        1 => Some(format!("1 {}", severity.word())),
        n => Some(format!("{n} {}s", severity.word())),
    };
    let severities = [Severity::Error, Severity::Caution, Severity::Notice];
    let parts: Vec<String> = severities.into_iter().filter_map(part).collect();
    format!("and {} more; --all tells everything\n", parts.join(", "))
}

/// One group in lines.
fn block(group: &Group, sources: &Sources, room: Room, screen: Screen) -> Vec<String> {
    let Some(first) = group.first() else {
        return Vec::new();
    };
    let mut text = vec![said(first, room)];
    text.extend(cells(group, sources, room).map(|cells| format!("  at {cells}")));
    if let Some((hint, alike)) = group.hint() {
        let as_for = if alike { "hint" } else { "hint for the first" };
        text.push(format!("  {as_for}: {}", tied_paths(&printable(hint))));
    }
    let mut before: Vec<&str> = Vec::new();
    for also in &group.also {
        if !before.contains(&also.sentence.as_str()) {
            text.push(format!("  also {}", said(also, room)));
            before.push(&also.sentence);
        }
    }
    let columns = match room {
        Room::Endless => usize::MAX,
        Room::All | Room::OneScreen => screen.width,
    };
    text.iter()
        .flat_map(|line| wrapped(line, columns))
        .collect()
}

fn said(problem: &Problem, room: Room) -> String {
    let whole = printable(&problem.sentence);
    let sentence = match room {
        Room::OneScreen => first_part(&whole),
        _ => &whole,
    };
    format!("{}: {}", problem.severity.word(), tied_paths(sentence))
}

fn is_cut(group: &Group, room: Room) -> bool {
    let is_long = |p: &Problem| first_part(&p.sentence).len() < p.sentence.len();
    matches!(room, Room::OneScreen) && group.all().any(is_long)
}

/// A long sentence up to its first semicolon or bracketed remark at the end of a clause: cautions say
/// first what can happen, then who decides and on which authority.
fn first_part(sentence: &str) -> &str {
    if sentence.width() <= LONG {
        return sentence;
    }
    let mut depth = 0_i32;
    for (at, c) in sentence.char_indices() {
        match c {
            '(' => depth = depth.saturating_add(1),
            ')' => depth = depth.saturating_sub(1),
            ';' if depth <= 0 => return sentence.get(..at).unwrap_or(sentence),
            _ => {}
        }
    }
    sentence
}

/// The cells of a group: `job.xlsx!Beds!D7 "8", D9 "9 or so" and 14 more`.
fn cells(group: &Group, sources: &Sources, room: Room) -> Option<String> {
    let most = match room {
        Room::OneScreen => MOST_CELLS,
        _ => usize::MAX,
    };
    let mut before = None;
    let mut named: Vec<(String, Option<String>)> = Vec::new();
    for problem in group.about.iter().take(most) {
        let place = place_after(before, problem, sources)?;
        named.push((tied(&printable(&place)), problem.held(sources)));
        before = Some(problem);
    }
    let more = match group.about.len().saturating_sub(most) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    let first = named.first()?.1.clone();
    let alike = group.about.iter().all(|p| p.held(sources) == first);
    let places = |quoted: bool| {
        let one = |(place, held): &(String, Option<String>)| match held {
            Some(held) if quoted => format!("{place} \"{held}\""),
            _ => place.clone(),
        };
        named.iter().map(one).collect::<Vec<_>>().join(", ")
    };
    Some(match first.filter(|_| alike) {
        Some(held) if group.about.len() == 1 => {
            format!("{}, which holds \"{held}\"", places(false))
        }
        Some(held) => format!("{}{more}, each of which holds \"{held}\"", places(false)),
        None => format!("{}{more}", places(true)),
    })
}

fn tied(place: &str) -> String {
    place.replace(' ', &TIE.to_string())
}

/// Quoted paths in a text do not break.
fn tied_paths(text: &str) -> String {
    let parts = text.split('"').enumerate();
    let parts = parts.map(|(number, part)| {
        let is_path = number % 2 == 1 && part.contains(['/', '\\']);
        if is_path { tied(part) } else { part.to_owned() }
    });
    parts.collect::<Vec<_>>().join("\"")
}

/// A line in lines of at most `columns`, the later ones under the first word after the indent. A word
/// that is longer stands on a line of its own.
fn wrapped(line: &str, columns: usize) -> Vec<String> {
    let indent = line
        .len()
        .saturating_sub(line.trim_start_matches(' ').len());
    let hanging = " ".repeat(indent.saturating_add(2));
    let mut lines = Vec::new();
    let mut open = " ".repeat(indent);
    // The first word, as `at`, never stands alone.
    let mut words = 0_usize;
    for word in line.trim_start_matches(' ').split(' ') {
        let with_word = open.width().saturating_add(1).saturating_add(word.width());
        let fewest = if lines.is_empty() { 2 } else { 1 };
        if words >= fewest && with_word > columns {
            lines.push(std::mem::replace(&mut open, hanging.clone()));
            words = 0;
        }
        if words > 0 {
            open.push(' ');
        }
        open.push_str(word);
        words = words.saturating_add(1);
    }
    lines.push(open);
    lines.iter().map(|l| l.replace(TIE, " ")).collect()
}

#[cfg(test)]
#[path = "telling_tests.rs"]
mod tests;
