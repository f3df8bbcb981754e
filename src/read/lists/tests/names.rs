//! Pairs of names that are the same thing, that are not, and that only the user can tell.

use std::sync::Arc;

use super::super::likeness::{EQUAL, TAKEN, WORTH_A_LOOK, Wanted};
use super::super::words::Name;
use crate::model::library::LibraryMaterial;
use crate::model::material::Category;
use crate::read::library::builtin;

fn wanted(name: &str, spec: Option<&str>) -> Wanted {
    let library = builtin();
    let known: Option<&LibraryMaterial> = library.material(name);
    let others: Vec<Arc<str>> = known
        .map(|k| {
            std::iter::once(k.name.clone())
                .chain(k.also.iter().cloned())
                .collect()
        })
        .unwrap_or_default();
    let category = known.map_or(Category::Lumber, |k| k.category);
    let spec = spec.map(Arc::from);
    Wanted::new(&Arc::from(name), spec.as_ref(), category, &others, None)
}

/// Likeness in thousandths and whether something is open; 0 for another thing.
fn like(ours: &Wanted, theirs: &str) -> (u32, bool) {
    let found = ours.likeness(&Name::of(theirs, false), &Name::default());
    found.map_or((0, false), |l| (l.thousandths, l.open.is_some()))
}

#[track_caller]
fn taken(ours: &str, theirs: &str, thousandths: u32) {
    let found = like(&wanted(ours, None), theirs);
    assert_eq!(found, (thousandths, false), "{ours} and {theirs}");
    assert!(thousandths >= TAKEN);
}

#[track_caller]
fn asked(ours: &str, theirs: &str, thousandths: u32) {
    let (found, _) = like(&wanted(ours, None), theirs);
    assert_eq!(found, thousandths, "{ours} and {theirs}");
    assert!((WORTH_A_LOOK..TAKEN).contains(&thousandths));
}

#[track_caller]
fn other(ours: &str, theirs: &str) {
    let (found, _) = like(&wanted(ours, None), theirs);
    assert!(found < WORTH_A_LOOK, "{ours} and {theirs}: {found}");
}

#[test]
fn the_same_words_in_another_order_and_spelling_are_the_same_thing() {
    taken("Topsoil", "TOPSOIL", EQUAL);
    taken("Topsoil", "Top soil, per cu yd", EQUAL);
    // The trade's topsoil is screened, and the library says so.
    taken("Topsoil", "TOPSOIL SCRND - BULK", EQUAL);
    taken("Compost", "Compost 1.5 cu ft bag", EQUAL);
    taken("2x10 cedar", "CEDAR 2x10x8", EQUAL);
    taken("2x10 cedar", "Cdr board 2\"x10\" 12 ft", EQUAL);
    taken("4x4 cedar", "4x4x8 cedar post", EQUAL);
    taken("2x6 pine treated", "PT Pine 2x6x12", EQUAL);
    taken("Hardware cloth", "Hdwr cloth 4 ft x 50 ft roll", EQUAL);
    taken("Garden blend 70/30", "70/30 GARDEN BLEND (CY)", EQUAL);
    taken("Wood chips", "Chips, wood", EQUAL);
}

#[test]
fn a_slip_of_the_pen_costs_a_little() {
    // 1 slip in 7 letters of 1 word: 1000 - 142 = 858, which alone is not enough.
    asked("Topsoil", "Topsiol", 858);
    // With a word that is right: 2 x (1000 + 1000 - 1000/10) / 4 = 950.
    taken("Structural screws", "Structual screws", 950);
}

#[test]
fn another_species_treatment_size_or_blend_is_another_thing() {
    other("2x10 cedar", "2x10x8 PINE");
    other("2x10 cedar", "2x8x8 CEDAR");
    other("2x6 pine untreated", "2x6x8 PINE TREATED");
    other("2x6 pine untreated", "2x6x8 PT PINE");
    other("Screened topsoil", "TOPSOIL UNSCREENED");
    other("Garden blend 70/30", "Garden blend 50/50");
    other("Topsoil", "Blue stone");
    other("Compost", "Pea gravel");
}

#[test]
fn what_only_one_side_says_is_asked() {
    // At most 850, however like the words are.
    asked("2x10", "2x10x8 CEDAR", 666);
    asked("2x10 cedar", "2x10x8 #2 CEDAR", 800);
    asked("2x10 cedar", "2x10x8", 666);
    asked("Screened topsoil", "Topsoil", 850);
    asked("Garden blend 70/30", "Garden blend", 850);
    asked("Topsoil", "Topsoil, unscreened", 666);
    asked("Hardware cloth", "Hardware cloth 1/2 in", 850);
    asked("Compost", "Compost organic", 666);
}

#[test]
fn a_specification_counts_as_said() {
    let screened = wanted("Topsoil", Some("screened"));
    assert_eq!(like(&screened, "TOPSOIL SCREENED"), (EQUAL, false));
    assert_eq!(like(&screened, "TOPSOIL"), (850, true));
    assert_eq!(like(&screened, "TOPSOIL UNSCREENED"), (0, false));
}

#[test]
fn a_column_of_its_own_can_say_another_grade() {
    let cedar = wanted("2x10 cedar", None);
    let spec = |text: &str| {
        let found = cedar.likeness(&Name::of("2x10x8 cedar", false), &Name::of(text, false));
        found.map(|l| l.open.is_some())
    };
    assert_eq!(spec(""), Some(false));
    assert_eq!(spec("rough"), Some(true));
}
