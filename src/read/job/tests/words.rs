//! Words of choices in Spanish, and that each stands for a word that its column knows.

use super::super::foreign_words::all;
use super::super::reading::{Words, meaning, meaning_in};
use super::super::setting_words as settings;
use super::super::{
    beds, equipment, extras, frames, irrigation, materials, shapes, sites, workers,
};

/// Whether `words` know `word`, and know each of `names` as the same.
fn same<T: Copy + PartialEq>(column: &str, words: &Words<T>, word: &str, names: &[String]) -> bool {
    let meant = meaning(word, words);
    let mut names = names.iter();
    meant.is_some() && names.all(|name| meaning_in(column, name, words) == meant)
}

/// Whether one of the settings that are chosen by a word knows this one.
fn a_setting(word: &str, names: &[String]) -> bool {
    let column = "Value";
    same(column, settings::SYSTEMS, word, names)
        || same(column, settings::DECIMAL_MARKS, word, names)
        || same(column, settings::PAPERS, word, names)
        || same(column, settings::MOMENTS, word, names)
        || same(column, settings::TOP_UPS, word, names)
        || same(column, settings::PROFITS, word, names)
        || same(column, settings::TAX_MODES, word, names)
        || same(column, settings::BUYINGS, word, names)
}

#[test]
fn every_spanish_word_means_what_its_english_one_means() {
    for (column, word, names) in all() {
        let known = match column.as_str() {
            "Shape" => same(&column, shapes::PLANS, &word, &names),
            "Measured" => same(&column, beds::MEASURED, &word, &names),
            "Base" => same(&column, beds::BASES, &word, &names),
            "Slope along" => same(&column, beds::ALONG, &word, &names),
            "Frame kind" => same(&column, frames::KINDS, &word, &names),
            "Corner" => same(&column, frames::boards::CORNERS, &word, &names),
            "Laid" => same(&column, frames::mortar::LAID, &word, &names),
            "Post material" => same(&column, &[(&["none", "no"], ())], &word, &names),
            "Category" => same(&column, materials::CATEGORIES, &word, &names),
            "Source" => same(&column, materials::SOURCES, &word, &names),
            "Haul ground" => same(&column, sites::GROUNDS, &word, &names),
            "Hire step" => same(&column, equipment::STEPS, &word, &names),
            "Per" => same(&column, extras::PERS, &word, &names),
            "Kind of extra" => same(&column, extras::KINDS, &word, &names),
            "Paid or volunteer" => same(&column, workers::PAYS, &word, &names),
            "Zone by" => same(&column, irrigation::ZONES, &word, &names),
            "Value" => a_setting(&word, &names),
            _ => false,
        };
        assert!(known, "{column}: {word} = {names:?}");
    }
}

#[test]
fn a_word_of_another_column_is_not_taken() {
    assert_eq!(meaning_in("Base", "redondo", beds::BASES), None);
    assert!(meaning_in("Shape", "REDONDO", shapes::PLANS).is_some());
    assert!(meaning_in("Shape", "rectangulo", shapes::PLANS).is_some());
}
