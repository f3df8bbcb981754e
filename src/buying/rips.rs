//! Cutting rectangles from sheets in two stages: a sheet is ripped along into strips, and each strip is
//! cut to lengths, of which all are as wide as the strip.
//!
//! With one size of sheet the stages part: the fewest strips of each width, then the fewest sheets for
//! those strips, and fewer strips never need more sheets. So two proven stages are a proven least. With
//! several sizes a strip's price is its share of the sheet, which guides and proves nothing.

use super::cut_list;
use super::sticks::{Bench, Cut, Size, Stock};

/// A size of sheet for sale.
#[derive(Clone, Debug)]
pub(super) struct Sheet {
    /// Along its ribs, in nm.
    pub(super) length: i64,
    /// Across them, in nm.
    pub(super) width: i64,
    /// The sheet as a stick to be cut along, with its price.
    pub(super) stock: Stock,
}

/// All pieces of one width.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Wanted {
    /// Across the ribs, in nm.
    pub(super) width: i64,
    /// Along them, longest first.
    pub(super) sizes: Vec<Size>,
}

/// How everything is cut.
#[derive(Clone, Debug)]
pub(super) struct Cutting {
    /// For each width wanted, its strips: the stock is the size of sheet from which a strip comes.
    pub(super) strips: Vec<Vec<Cut>>,
    /// The sheets: the sizes taken are the places of the widths.
    pub(super) sheets: Vec<Cut>,
    /// Whether no other cutting in two stages takes less.
    pub(super) is_proven: bool,
}

impl Cutting {
    /// How many sheets of a size.
    pub(super) fn count(&self, size: usize) -> u64 {
        let own = self.sheets.iter().filter(|cut| cut.stock == size);
        own.map(|cut| cut.times).fold(0, u64::saturating_add)
    }
}

/// Cuts everything from these sizes; `None` when they cannot yield every piece.
///
/// `wanted` stands widest first.
pub(super) fn cut(kerf: i64, sheets: &[Sheet], wanted: &[Wanted]) -> Option<Cutting> {
    let mut strips = Vec::with_capacity(wanted.len());
    let mut is_proven = sheets.len() == 1;
    for group in wanted {
        let (cuts, least) = strips_of(kerf, sheets, group)?;
        is_proven &= least;
        strips.push(cuts);
    }
    let mut ripped = Vec::new();
    for (size, sheet) in sheets.iter().enumerate() {
        let (cuts, least) = rips_of(kerf, (size, sheet), wanted, &strips)?;
        is_proven &= least;
        ripped.extend(cuts);
    }
    Some(Cutting {
        strips,
        sheets: ripped,
        is_proven,
    })
}

/// Strips of one width from which all its lengths come.
fn strips_of(kerf: i64, sheets: &[Sheet], group: &Wanted) -> Option<(Vec<Cut>, bool)> {
    let fitting: Vec<(usize, Stock)> = sheets
        .iter()
        .enumerate()
        .filter_map(|(size, sheet)| Some((size, strip_of(kerf, sheet, group.width)?)))
        .collect();
    let stocks: Vec<Stock> = fitting.iter().map(|(_, stock)| stock.clone()).collect();
    let bench = Bench {
        stocks: &stocks,
        sizes: &group.sizes,
        kerf,
    };
    let solved = cut_list::solve(&bench)?;
    let is_least = solved.is_least(&bench);
    let of_size = |cut: Cut| {
        let (size, _) = fitting.get(cut.stock)?;
        Some(Cut {
            stock: *size,
            ..cut
        })
    };
    let cuts: Option<Vec<Cut>> = solved.cuts.into_iter().map(of_size).collect();
    Some((cuts?, is_least))
}

/// A strip of a width as a stick, at its share of the sheet's price; `None` when the sheet is too narrow.
fn strip_of(kerf: i64, sheet: &Sheet, width: i64) -> Option<Stock> {
    let step = width.saturating_add(kerf);
    let number = sheet.width.saturating_add(kerf).checked_div(step)?;
    if number < 1 {
        return None;
    }
    let price = sheet.stock.price.checked_div(number)?;
    Some(Stock {
        nominal: sheet.length,
        full: sheet.length,
        usable: sheet.length,
        // Free sheets are as good as each other; a price of one strip counts strips.
        price: price.max(1),
        most: None,
    })
}

/// Sheets of one size for the strips that come from it.
fn rips_of(
    kerf: i64,
    (size, sheet): (usize, &Sheet),
    wanted: &[Wanted],
    strips: &[Vec<Cut>],
) -> Option<(Vec<Cut>, bool)> {
    let mut places = Vec::new();
    let mut sizes = Vec::new();
    for (place, (group, cuts)) in wanted.iter().zip(strips).enumerate() {
        let own = cuts.iter().filter(|cut| cut.stock == size);
        let count = own.map(|cut| cut.times).fold(0, u64::saturating_add);
        if count > 0 {
            places.push(place);
            sizes.push(Size {
                length: group.width,
                count,
            });
        }
    }
    if sizes.is_empty() {
        return Some((Vec::new(), true));
    }
    let stocks = [Stock {
        nominal: sheet.width,
        full: sheet.width,
        usable: sheet.width,
        ..sheet.stock.clone()
    }];
    let bench = Bench {
        stocks: &stocks,
        sizes: &sizes,
        kerf,
    };
    let solved = cut_list::solve(&bench)?;
    let is_least = solved.is_least(&bench);
    let of_width = |cut: Cut| {
        let takes = cut.takes.iter();
        let takes = takes.map(|(place, number)| Some((*places.get(*place)?, *number)));
        Some(Cut {
            stock: size,
            takes: takes.collect::<Option<_>>()?,
            times: cut.times,
        })
    };
    let cuts: Option<Vec<Cut>> = solved.cuts.into_iter().map(of_width).collect();
    Some((cuts?, is_least))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn sheet(length: i64, width: i64, price: u32) -> Sheet {
        Sheet {
            length,
            width,
            stock: Stock {
                nominal: width,
                full: width,
                usable: width,
                price: price.into(),
                most: None,
            },
        }
    }

    fn wanted(width: i64, sizes: &[(i64, u64)]) -> Wanted {
        let size = |(length, count): &(i64, u64)| Size {
            length: *length,
            count: *count,
        };
        Wanted {
            width,
            sizes: sizes.iter().map(size).collect(),
        }
    }

    #[track_caller]
    fn check(kerf: i64, sheets: &[Sheet], wanted: &[Wanted], counts: &[u64], is_proven: bool) {
        let found = cut(kerf, sheets, wanted).unwrap();
        let found_counts: Vec<u64> = (0..sheets.len()).map(|size| found.count(size)).collect();
        assert_eq!(found_counts, counts);
        assert_eq!(found.is_proven, is_proven);
    }

    #[test]
    fn strips_are_ripped_first_and_then_cut_to_length() {
        // 24 wide from sheets 48 wide and 96 long: 2 strips a sheet. Lengths 96, 96, 48, 48 take
        // 3 strips, so 2 sheets; with a kerf of 1 only one strip of 24 comes out of 48.
        let lengths = [wanted(24, &[(96, 2), (48, 2)])];
        check(0, &[sheet(96, 48, 100)], &lengths, &[2], true);
        check(1, &[sheet(96, 48, 100)], &lengths, &[4], true);
    }

    #[test]
    fn strips_of_several_widths_share_sheets() {
        // 30 and 18 make 48: a strip of each from every sheet.
        let both = [wanted(30, &[(96, 2)]), wanted(18, &[(96, 2)])];
        check(0, &[sheet(96, 48, 100)], &both, &[2], true);
        // Nothing is as wide as 50.
        let wide = [wanted(50, &[(10, 1)])];
        assert!(cut(0, &[sheet(96, 48, 100)], &wide).is_none());
    }

    #[test]
    fn longer_sheets_are_taken_where_they_save_money() {
        // 120 long at 110 against 96 long at 100: a piece of 120 needs the long one, four of 96 the short.
        let sheets = [sheet(96, 26, 100), sheet(120, 26, 110)];
        let all = [wanted(24, &[(120, 1), (96, 4)])];
        check(0, &sheets, &all, &[4, 1], false);
    }

    /// Least number of bins of `room` for `items`, by trying every bin for every item.
    fn fewest(room: i64, kerf: i64, items: &[i64]) -> usize {
        fn place(items: &[i64], bins: &mut Vec<i64>, room: i64, kerf: i64, best: &mut usize) {
            let Some((first, rest)) = items.split_first() else {
                *best = (*best).min(bins.len());
                return;
            };
            if bins.len() >= *best {
                return;
            }
            for i in 0..bins.len() {
                if bins[i] + kerf + first <= room {
                    bins[i] += kerf + first;
                    place(rest, bins, room, kerf, best);
                    bins[i] -= kerf + first;
                }
            }
            bins.push(*first);
            place(rest, bins, room, kerf, best);
            bins.pop();
        }
        let mut best = items.len();
        place(items, &mut Vec::new(), room, kerf, &mut best);
        best
    }

    proptest! {
        #[test]
        fn one_size_of_sheet_is_cut_as_well_as_by_trying_everything(
            low in proptest::collection::vec(10_i64..60, 1..5),
            high in proptest::collection::vec(10_i64..60, 1..5),
            kerf in 0_i64..3,
        ) {
            // Strips of 10 and of 17 from sheets 30 wide and 60 long.
            let (mut high, mut low) = (high, low);
            high.sort_unstable_by(|a, b| b.cmp(a));
            low.sort_unstable_by(|a, b| b.cmp(a));
            let group = |width, items: &[i64]| {
                let mut sizes: Vec<(i64, u64)> = Vec::new();
                for item in items {
                    match sizes.last_mut() {
                        Some((length, count)) if length == item => *count += 1,
                        _ => sizes.push((*item, 1)),
                    }
                }
                wanted(width, &sizes)
            };
            let found = cut(kerf, &[sheet(60, 30, 7)], &[group(17, &high), group(10, &low)]).unwrap();
            let mut strips = vec![17; fewest(60, kerf, &high)];
            strips.extend(vec![10; fewest(60, kerf, &low)]);
            let least = fewest(30, kerf, &strips);
            prop_assert!(found.count(0) >= u64::try_from(least).unwrap());
            if found.is_proven {
                prop_assert_eq!(found.count(0), u64::try_from(least).unwrap());
            }
        }
    }
}
