//! What can be wrong with a mapping, told at its cell.

use super::{BEDS, FILLS, FRAMES, Folder};
use crate::problem::Severity;

const LIST: (&str, &str) = ("list.csv", "Description,UOM,Unit price\nCompost,CY,41.00\n");

#[track_caller]
fn check(mapping: &str, expected: &[&str]) {
    let folder = Folder::with(&[BEDS, FILLS, FRAMES, LIST, ("Price lists.csv", mapping)]);
    folder.put_workbook("two.xlsx", &[("North", &[&["a"]]), ("South", &[&["b"]])]);
    assert_eq!(folder.told(Severity::Error), expected);
}

#[test]
fn a_file_that_is_not_there_is_told() {
    check(
        "File,Supplier\nlits.csv,Mill Lane Yard\n",
        &[
            "error: the list cannot be read: there is no such file or folder\n  \
           at Price lists.csv:2:1, which holds \"lits.csv\"\n  \
           hint: write the file's name as seen from the folder of the job",
        ],
    );
}

#[test]
fn nothing_is_fetched() {
    check(
        "File,Supplier\nhttps://yard.example/list.csv,Mill Lane Yard\n",
        &[
            "error: File must be a file on this machine, not an address\n  \
           at Price lists.csv:2:1, which holds \"https://yard.example/list.csv\"\n  \
           hint: save the list beside the job and write its file name",
        ],
    );
}

#[test]
fn a_column_that_is_not_there_is_told() {
    check(
        "File,Supplier,Price\nlist.csv,Mill Lane Yard,Unit prise\n",
        &["error: list.csv has no column of this title\n  \
           at Price lists.csv:2:3, which holds \"Unit prise\"\n  \
           hint: did you mean \"Unit price\"?"],
    );
}

#[test]
fn a_sheet_is_asked_for_and_must_be_there() {
    check(
        "File,Supplier\ntwo.xlsx,Mill Lane Yard\n",
        &["error: two.xlsx has 2 sheets\n  \
           at Price lists.csv:2:1, which holds \"two.xlsx\"\n  \
           hint: write under Sheet which one is the list: North, South"],
    );
    check(
        "File,Sheet,Supplier\ntwo.xlsx,West,Mill Lane Yard\n",
        &["error: two.xlsx has no such sheet\n  \
           at Price lists.csv:2:2, which holds \"West\"\n  \
           hint: it has North, South"],
    );
}

#[test]
fn a_list_stands_once() {
    check(
        "File,Supplier\nlist.csv,Yard\nlist.csv,yard\n",
        &["error: this list is named twice\n  \
           at Price lists.csv:3:1, which holds \"list.csv\"\n  \
           hint: keep one row for each list, or its prices would count twice"],
    );
}

#[test]
fn a_broken_price_names_the_cell_of_the_list_and_only_where_it_is_needed() {
    let broken = (
        "list.csv",
        "Description,UOM,Unit price\nCompost,CY,41 or 42\nBlue stone,CY,8 or 9\n",
    );
    let mapping = ("Price lists.csv", "File,Supplier\nlist.csv,Yard\n");
    let folder = Folder::with(&[BEDS, FILLS, FRAMES, broken, mapping]);
    let told = folder.told(Severity::Error);
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(
        told[0].contains("at list.csv:2:3, which holds \"41 or 42\""),
        "{told:#?}"
    );
}
