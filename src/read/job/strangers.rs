//! Goods for sale that nothing uses, which may be a slip in the name of something that is used.

use std::sync::Arc;

use super::draft::Draft;
use crate::model::material::Material;
use crate::model::source::RowAt;
use crate::problem::Problem;
use crate::read::names::did_you_mean;

/// The lumber in use of the same section whose name is nearly that of one that nothing uses.
pub(super) fn slip_of_lumber<'a>(draft: &'a Draft<'_>, place: usize) -> Option<&'a str> {
    let nominal = |m: &'a Material| Some(&m.section.as_ref()?.value.nominal);
    let sold = draft.materials.get(place)?;
    let section = nominal(sold)?;
    if draft.used.contains(&place) {
        return None;
    }
    let typed = without_sizes(&sold.name);
    let mut used = draft.used.iter().filter_map(|p| draft.materials.get(*p));
    let near = used.find(|used| {
        let known = without_sizes(&used.name);
        nominal(used) == Some(section) && did_you_mean(&typed, std::iter::once(&*known)).is_some()
    });
    near.map(|near| &*near.name)
}

/// The words of a name that hold no figure: sizes that are the same would make pine look like cedar.
fn without_sizes(name: &str) -> String {
    let words = name.split_whitespace();
    let words: Vec<&str> = words
        .filter(|word| word.len() > 1 && !word.contains(|c: char| c.is_ascii_digit()))
        .collect();
    words.join(" ")
}

/// One notice for each stranger that is nearly a name in use, and one for all others together.
pub(super) fn say(draft: &mut Draft<'_>, strangers: &[(RowAt, Arc<str>)]) {
    let mut rest: Vec<&(RowAt, Arc<str>)> = Vec::new();
    for stranger in strangers {
        let (at, name) = stranger;
        let used = draft
            .used
            .iter()
            .filter_map(|place| draft.materials.get(*place));
        match did_you_mean(name, used.map(|m| &*m.name)) {
            Some(near) => {
                let said = Problem::notice("Material is sold here but nothing uses it");
                let hint = format!("did you mean \"{near}\"?");
                draft.problems.push(said.at(*at, "Material").hint(hint));
            }
            None => rest.push(stranger),
        }
    }
    let Some((at, _)) = rest.first() else {
        return;
    };
    let said = match rest.len() {
        1 => "Material is sold here but nothing uses it".to_owned(),
        n => {
            let names: Vec<&str> = rest.iter().take(5).map(|(_, name)| &**name).collect();
            let more = if n > 5 { " …" } else { "" };
            format!(
                "{n} materials of Prices are used by nothing: {}{more}",
                names.join(", ")
            )
        }
    };
    draft
        .problems
        .push(Problem::notice(said).at(*at, "Material"));
}
