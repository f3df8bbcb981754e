//! Names and sentences that several pages need.

use crate::price::Estimate;
use crate::takeoff::{KindId, LayerTakeOff, Part};

/// Names of beds that are shown of one kind.
const MOST_NAMES: usize = 6;

/// The beds of a kind: `A1, A2 and 4 more`.
pub(super) fn beds_of(estimate: &Estimate, kind: KindId) -> String {
    let Some(kind) = estimate.kinds.kinds.get(kind.index()) else {
        return String::new();
    };
    let names = kind.beds.iter().filter_map(|bed| {
        let bed = estimate.job.beds.get(bed.index())?;
        Some(bed.name.as_ref())
    });
    let shown: Vec<&str> = names.take(MOST_NAMES).collect();
    let more = kind.beds.len().saturating_sub(shown.len());
    let list = shown.join(", ");
    if more == 0 {
        list
    } else {
        format!("{list} and {more} more")
    }
}

/// What a need is for.
pub(super) fn part(part: Part, layers: &[LayerTakeOff]) -> String {
    let fixed = match part {
        Part::Board => "wall boards",
        Part::Timber => "wall timbers",
        Part::Stone => "wall stone",
        Part::Hearting => "hearting",
        Part::Mortar => "mortar",
        Part::WallBase => "base of the wall",
        Part::Panel => "wall panels",
        Part::Rail => "rails",
        Part::Post => "posts",
        Part::CornerTrim => "corner trim",
        Part::CornerPiece => "corner pieces",
        Part::Cap => "cap",
        Part::Brace => "braces",
        Part::Fastener => "fasteners",
        Part::Liner => "wall liner",
        Part::Mesh => "mesh below",
        Part::Finish => "finish",
        Part::EndTreatment => "end treatment",
        Part::Block => "wall blocks",
        Part::HalfBlock => "half blocks",
        Part::CoreFill => "filling of cells",
        Part::Bar => "bars",
        Part::Adhesive => "adhesive",
        Part::ReadyMade => "ready-made bed",
        Part::GroundCover => "cover on mown ground",
        Part::Surface => "surface",
        Part::Under => "fabric below",
        Part::Edging => "edging",
        Part::Spoil => "ground that is carried away",
        Part::TopUp => "top-up after the first season",
        Part::Watering => "watering",
        Part::Amendment(_) => "worked into the top",
        Part::Layer(index) => {
            let name = layers.get(usize::from(index)).map_or("", |l| &l.name);
            return format!("layer {} from the bottom: {name}", u32::from(index) + 1);
        }
    };
    fixed.to_owned()
}

/// The name of a site and a phase; the only phase of a job is not named.
pub(super) fn place(
    estimate: &Estimate,
    site: crate::model::job::SiteId,
    phase: crate::model::job::PhaseId,
) -> String {
    let job = &estimate.job;
    let site = job.sites.get(site.index()).map_or("", |s| &s.name);
    let phase = job.phases.get(phase.index()).map_or("", |p| p);
    if job.phases.len() < 2 || phase.is_empty() {
        site.to_owned()
    } else {
        format!("{site}, {phase}")
    }
}

/// Text broken at spaces into lines of at most `most` characters; a longer word stays whole.
pub(super) fn lines(text: &str, most: usize) -> Vec<String> {
    let mut lines = Vec::new();
    for paragraph in text.lines() {
        let mut line = String::new();
        for word in paragraph.split_whitespace() {
            let length = line.chars().count() + 1 + word.chars().count();
            if !line.is_empty() && length > most {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::lines;

    #[test]
    fn lines_break_at_spaces() {
        assert_eq!(
            lines("12.5 yd3: 3 loads, after rain 4", 18),
            ["12.5 yd3: 3 loads,", "after rain 4"]
        );
        assert_eq!(
            lines("unbroken-and-long short", 5),
            ["unbroken-and-long", "short"]
        );
    }
}
