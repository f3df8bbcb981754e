//! Sentences that stand beside the price: what comes on which day's trucks, and how far it sinks.

use crate::buying::Trips;
use crate::model::settings::TopUp;
use crate::price::Estimate;
use crate::takeoff::Moment;

/// Depths that one sentence tells.
const MOST_DEPTHS: usize = 8;
/// Beds that are named with one depth.
const MOST_BEDS: usize = 12;

/// The loads that stand in the price, those that take most trips first.
pub(super) fn loads(estimate: &Estimate) -> Vec<String> {
    let includes = estimate.job.settings.top_up.value == TopUp::Included;
    let trips = estimate.bought.trips.iter();
    let mut trips: Vec<&Trips> = trips
        .filter(|t| t.moment == Moment::Build || includes)
        .collect();
    trips.sort_by_key(|t| std::cmp::Reverse((t.after_rain, t.loads.len())));
    trips.iter().map(|t| t.words.clone()).collect()
}

/// How far the surface sinks, one sentence: beds that sink alike are named together.
pub(super) fn sinks(estimate: &Estimate) -> Option<String> {
    let system = estimate.job.settings.units.value;
    let mut by_depth: Vec<(String, Vec<&str>)> = Vec::new();
    let pairs = estimate.kinds.kinds.iter().zip(&estimate.takeoffs);
    for (kind, takeoff) in pairs.filter(|(_, t)| !t.sink.is_zero()) {
        let depth = system.depth(takeoff.sink);
        let names = kind.beds.iter();
        let names = names.filter_map(|b| estimate.job.beds.get(b.index()));
        let names = names.map(|bed| bed.name.as_ref());
        match by_depth.iter_mut().find(|(known, _)| *known == depth) {
            Some((_, list)) => list.extend(names),
            None => by_depth.push((depth, names.collect())),
        }
    }
    sentence(&by_depth)
}

fn sentence(by_depth: &[(String, Vec<&str>)]) -> Option<String> {
    let ((depth, names), others) = by_depth.split_first()?;
    let mut told = format!("Surface will sink about {depth} by autumn: {}", few(names));
    for (depth, names) in others.iter().take(MOST_DEPTHS - 1) {
        told.push_str("; ");
        told.push_str(depth);
        told.push_str(": ");
        told.push_str(&few(names));
    }
    if by_depth.len() > MOST_DEPTHS {
        told.push_str("; the others on the sheet Take-off");
    }
    told.push('.');
    Some(told)
}

fn few(names: &[&str]) -> String {
    let shown: Vec<&str> = names.iter().take(MOST_BEDS).copied().collect();
    let list = shown.join(", ");
    match names.len().saturating_sub(MOST_BEDS) {
        0 => list,
        more => format!("{list} and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn beds_that_sink_alike_are_named_together() {
        let by_depth = [
            ("1.5 in".to_owned(), vec!["A1", "B4"]),
            ("1.22 in".to_owned(), vec!["A5"]),
        ];
        let expected = "Surface will sink about 1.5 in by autumn: A1, B4; 1.22 in: A5.";
        assert_eq!(sentence(&by_depth).as_deref(), Some(expected));
        assert_eq!(sentence(&[]), None);
    }

    #[test]
    fn many_beds_and_many_depths_are_not_all_told() {
        // 14 beds at one depth: 12 names and 2 more. 10 depths: 8 told.
        let by_depth: Vec<(String, Vec<&str>)> = (1..=10)
            .map(|n| (format!("{n} in"), vec!["A"; 14]))
            .collect();
        let told = sentence(&by_depth).unwrap();
        assert!(told.contains("A, A and 2 more; 2 in: A"), "{told}");
        assert!(
            told.contains("; 8 in: A") && !told.contains("9 in"),
            "{told}"
        );
        assert!(
            told.ends_with("; the others on the sheet Take-off."),
            "{told}"
        );
    }
}
