//! The titles of the settings on the `Job` sheet.

use super::library::folded;

/// Every setting by its title, with other ways in which the trade says it.
pub const TITLES: &[(&str, &[&str])] = &[
    ("Job name", &["Job", "Project", "Project name"]),
    ("Client", &["Customer"]),
    ("Estimate number", &["Quote number", "Estimate no"]),
    ("Revision", &[]),
    ("Prepared by", &["Estimator"]),
    ("Date", &["Estimate date", "Quote date"]),
    ("Valid days", &["Valid for days", "Validity"]),
    ("Units", &["Unit system"]),
    ("Decimal mark", &["Decimal separator"]),
    ("Currency", &[]),
    ("Paper", &["Paper size"]),
    ("Full after", &[]),
    ("Crown", &[]),
    ("Freeboard", &["Below rim"]),
    ("Top-up", &[]),
    ("Kerf", &["Saw kerf"]),
    ("End trim", &[]),
    ("Culls %", &["Culls"]),
    ("Ground work", &["Ground", "Ground preparation"]),
    ("Ground margin", &["Ground beyond walls"]),
    ("Swell %", &["Swell", "Bulking %"]),
    ("Spoil kept %", &["Spoil kept", "Spoil kept on site"]),
    ("Crew size", &["Crew"]),
    ("Usual worker", &["Usual crew"]),
    ("Hours per day", &["Day length"]),
    ("Set-up hours", &["Set-up"]),
    ("Season factor", &["Season"]),
    ("Overhead %", &["Overhead"]),
    ("Contingency %", &["Contingency"]),
    ("Profit %", &["Profit"]),
    ("Profit as", &[]),
    ("Tax mode", &["Sales tax mode"]),
    ("Tax %", &["Sales tax", "Sales tax %", "Tax rate"]),
    ("Taxed categories", &[]),
    ("Exemption", &["Tax exemption"]),
    ("Round price to", &["Round to"]),
    ("Minimum charge", &["Minimum"]),
    ("Buying", &[]),
    ("Stale days", &["Prices stale after days"]),
];

/// The title that a typed one means, without regard to case, spaces and a percent sign at its end.
pub fn title_of(typed: &str) -> Option<&'static str> {
    let typed = typed.trim_end_matches([':', '?', ' ']);
    let wanted = folded(typed);
    let bare = wanted.trim_end_matches('%');
    let found = TITLES.iter().find(|(title, also)| {
        let title = folded(title);
        title == wanted
            || title.trim_end_matches('%') == bare
            || also.iter().any(|a| folded(a) == wanted)
    });
    found.map(|(title, _)| *title)
}
