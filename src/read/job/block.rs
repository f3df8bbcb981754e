//! Sizes of blocks: from a name such as `Hollow block 8x8x16`, or from a cell.

use std::sync::Arc;

use super::draft::Draft;
use super::materials::plain;
use super::reading::Reading;
use crate::model::block::{BlockMake, BlockSize};
use crate::model::known::Known;
use crate::model::library::{Library, LibraryBlock};
use crate::model::material::{Category, Material};
use crate::units::{Decimal, Length, System, parse};

/// Words by which a name shows that it is a block's and not that of a timber `8x8` sold 16 ft long.
const WORDS: [&str; 9] = [
    "block",
    "blocks",
    "cmu",
    "brick",
    "bricks",
    "segmental",
    "cap",
    "breeze",
    "masonry",
];

/// The words of a name, sizes closed up: `8 × 8 x 16 block` as `8x8x16`, `block`.
fn tokens(name: &str) -> Vec<String> {
    let plain = name.to_lowercase().replace('×', "x").replace(" x ", "x");
    let parts = plain.split(|c: char| c.is_whitespace() || matches!(c, ',' | '(' | ')' | '-'));
    parts
        .filter(|part| !part.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The block that a name speaks of: the one of which it holds the most words.
pub(super) fn block_in_name<'l>(library: &'l Library, name: &str) -> Option<&'l LibraryBlock> {
    let has = tokens(name);
    let words = |block: &LibraryBlock| block.key.split(' ').count();
    let named = library.blocks.iter().filter(|block| {
        let mut words = block.key.split(' ');
        words.all(|word| has.iter().any(|t| t == word))
    });
    named.max_by_key(|block| words(block))
}

/// As [`block_in_name`], for a name that need not be a block's.
pub(super) fn surely_block<'l>(library: &'l Library, name: &str) -> Option<&'l LibraryBlock> {
    let is_said = tokens(name).iter().any(|t| WORDS.contains(&t.as_str()));
    is_said.then(|| block_in_name(library, name))?
}

/// The size of a block of the library.
pub(super) fn known_size(block: &LibraryBlock) -> Known<BlockSize> {
    Known::library(
        block.block.clone(),
        "blocks",
        Arc::clone(&block.key),
        "length",
    )
}

/// A block of the library.
pub(super) fn of_block(name: Arc<str>, block: &LibraryBlock) -> Material {
    Material {
        block: Some(known_size(block)),
        ..plain(name, Category::Block)
    }
}

/// The size of a block from its cell; its cells and its weight from those of voids and density.
pub(super) fn overlay(draft: &Draft<'_>, reading: &mut Reading<'_, '_>, material: &mut Material) {
    if let Some(mut typed) = block_cell(draft.library, draft.system, reading) {
        if let Some(known) = &material.block
            && typed.value.weight.is_none()
        {
            typed.value.make = known.value.make;
            typed.value.cells = known.value.cells;
        }
        material.block = Some(typed);
    }
    let Some(block) = &mut material.block else {
        return;
    };
    if material.void.is_given() {
        block.value.cells = material.void.value;
    }
    if let Some(density) = material.delivered.as_ref().filter(|d| d.is_given()) {
        block.value.weight = Some(density.value.weigh(block.value.bulk()));
    }
}

/// The `Section` cell of a block: a trade name of the library, or its true size with the height in the
/// middle, as `8x8x16 in` for depth, height, length, or `440x215x100 mm` for length, height, depth.
fn block_cell(
    library: &Library,
    system: System,
    reading: &mut Reading<'_, '_>,
) -> Option<Known<BlockSize>> {
    let typed = reading.text("Section")?;
    let at = reading.at();
    if let Some(known) = named_either_way(library, &typed) {
        return Some(Known::job(known.block.clone(), at, "Section"));
    }
    let words = tokens(&typed);
    let make = BlockMake::ALL
        .into_iter()
        .find(|make| words.iter().any(|w| w == make.word()));
    let make_word = |word: &&String| BlockMake::ALL.iter().any(|m| m.word() == word.as_str());
    let bare: Vec<&str> = words
        .iter()
        .filter(|w| !make_word(w))
        .map(|w| &**w)
        .collect();
    let context = reading.row.context("Section");
    let sides = parse::sides(&bare.join(" "), &context).unwrap_or_default();
    let size = measured(&typed, make, &sides, system);
    if size.is_none() {
        let hint = "write 8x8x16, or the true size with the height in the middle, as 7.5 x 7.5 x 15.5 in or 440 x 215 x 100 mm";
        reading.complain("Section", "Section needs the size of a block", hint);
    }
    size.map(|size| Known::job(size, at, "Section"))
}

/// `8x8x16` and `16x8x8` are one block.
fn named_either_way<'l>(library: &'l Library, typed: &str) -> Option<&'l LibraryBlock> {
    let turned: Vec<String> = tokens(typed)
        .iter()
        .map(|token| token.split('x').rev().collect::<Vec<_>>().join("x"))
        .collect();
    block_in_name(library, typed).or_else(|| block_in_name(library, &turned.join(" ")))
}

fn measured(
    typed: &str,
    make: Option<BlockMake>,
    sides: &[Length],
    system: System,
) -> Option<BlockSize> {
    let &[first, height, last] = sides else {
        return None;
    };
    let (length, depth) = (first.max(last), first.min(last));
    if height > length || depth.is_zero() || height.is_zero() {
        return None;
    }
    let make = make.unwrap_or(BlockMake::Solid);
    let joint = match (make, system) {
        (BlockMake::Segmental, _) => Length::ZERO,
        (_, System::UsCustomary) => Length::inches(Decimal::new(375, 3)),
        (_, System::Metric) => Length::millimetres(Decimal::TEN),
    };
    Some(BlockSize {
        nominal: Arc::from(typed),
        make,
        nominal_height: height,
        length,
        height,
        depth,
        joint,
        cells: Decimal::ZERO,
        weight: None,
    })
}
