use std::sync::Arc;

use super::*;
use crate::model::source::{Cell, Form, RowAt, SourceColumn, SourceRow, SourceTable};
use crate::write::paint::Paint;

/// Beds in the rows 7 to 26 of a sheet; `Length` in column D holds `8`, in row 8 `9 or so`.
fn beds() -> Sources {
    let row = |row| SourceRow {
        row,
        cells: vec![Cell::Text(Arc::from(if row == 7 {
            "9 or so"
        } else {
            "8"
        }))],
    };
    let columns = vec![SourceColumn {
        index: 3,
        title: Arc::from("Length"),
        field: Some("Length"),
    }];
    Sources {
        tables: vec![SourceTable {
            sheet: None,
            file: Arc::from("nine beds.xlsx"),
            label: Arc::from("Beds"),
            form: Form::Workbook,
            columns,
            rows: (6..26).map(row).collect(),
        }],
    }
}

fn unit(row: u32) -> Problem {
    let at = RowAt { table: 0, row };
    let problem = Problem::error("Length needs a unit").at(at, "Length");
    problem.hint("write 8 ft, or head the column \"Length (ft)\"")
}

const fn screen(width: usize, height: usize) -> Screen {
    Screen {
        paint: Paint::Plain,
        width,
        height,
    }
}

/// On a screen of 60 columns and 15 lines.
#[track_caller]
fn check(problems: &[Problem], room: Room, expected: &str) {
    check_on(screen(60, 15), problems, room, expected);
}

#[track_caller]
fn check_on(screen: Screen, problems: &[Problem], room: Room, expected: &str) {
    assert_eq!(told(problems, &beds(), room, screen), expected);
}

#[test]
fn one_cell_is_told_with_what_it_holds() {
    check(
        &[unit(6)],
        Room::Endless,
        "error: Length needs a unit\n  \
           at nine beds.xlsx!Beds!D7, which holds \"8\"\n  \
           hint: write 8 ft, or head the column \"Length (ft)\"\n",
    );
}

#[test]
fn many_cells_are_told_once() {
    let some: Vec<Problem> = (6..9).map(unit).collect();
    check(
        &some,
        Room::Endless,
        "error: Length needs a unit\n  \
           at nine beds.xlsx!Beds!D7 \"8\", D8 \"9 or so\", D9 \"8\"\n  \
           hint: write 8 ft, or head the column \"Length (ft)\"\n",
    );
    let many: Vec<Problem> = (8..26).map(unit).collect();
    check(
        &many,
        Room::OneScreen,
        "error: Length needs a unit\n  \
           at nine beds.xlsx!Beds!D9, D10, D11, D12, D13, D14 and 12\n    \
             more, each of which holds \"8\"\n  \
           hint: write 8 ft, or head the column \"Length (ft)\"\n",
    );
}

#[test]
fn a_screen_is_never_more_than_full_and_the_last_line_says_what_is_left() {
    let mut problems: Vec<Problem> = ["one", "two", "three", "four"]
        .into_iter()
        .map(|name| Problem::error(format!("Frame {name} is not among Frames")).hint("add it"))
        .collect();
    problems.push(Problem::notice("Measured is not set"));
    problems.push(Problem::caution("a tall wall"));
    problems.extend((0..4).map(|n| Problem::notice(format!("notice {n}"))));
    // 15 lines less 5 for what follows are 10: five blocks of which four have two lines, and one has one.
    let shown = "error: Frame one is not among Frames\n  hint: add it\n\
         error: Frame two is not among Frames\n  hint: add it\n\
         error: Frame three is not among Frames\n  hint: add it\n\
         error: Frame four is not among Frames\n  hint: add it\n\
         caution: a tall wall\n\
         notice: Measured is not set\n";
    let rest = "and 4 notices more; --all tells everything\n";
    check(&problems, Room::OneScreen, &format!("{shown}{rest}"));
    let all =
        format!("{shown}notice: notice 0\nnotice: notice 1\nnotice: notice 2\nnotice: notice 3\n");
    check(&problems, Room::All, &all);
    check(&problems, Room::Endless, &all);
}

#[test]
fn the_first_problem_is_told_however_small_the_screen() {
    check_on(
        screen(40, 1),
        &[unit(6), Problem::error("no beds"), Problem::caution("c")],
        Room::OneScreen,
        "error: Length needs a unit\n  \
           at nine beds.xlsx!Beds!D7, which holds\n    \"8\"\n  \
           hint: write 8 ft, or head the column\n    \"Length (ft)\"\n\
         and 1 error, 1 caution more; --all tells everything\n",
    );
}

#[test]
fn long_cautions_show_their_first_part_and_stay_whole_elsewhere() {
    let first = "Ground below A1, A2 and 7 more (open; lawn): old paint, traffic and filled ground \
                 can leave lead in the soil, so have it tested before food is grown";
    let whole = format!("{first}; local code and licensed practice decide (the figure is 200 ppm)");
    check_on(
        screen(80, 24),
        &[Problem::caution(whole.clone())],
        Room::OneScreen,
        "caution: Ground below A1, A2 and 7 more (open; lawn): old paint, traffic and\n  \
           filled ground can leave lead in the soil, so have it tested before food is\n  \
           grown\n\
         Cut short here; local code and licensed practice decide.\n\
         --all tells everything\n",
    );
    let all = format!("caution: {whole}\n");
    check(&[Problem::caution(whole)], Room::Endless, &all);
}

#[test]
fn a_path_stays_in_one_piece() {
    let path = "/home/garden/jobs for the clinic/second offer of the year/estimate.xlsx";
    let problem = Problem::file("estimate.xlsx was changed, so it is not replaced")
        .place(path)
        .hint(format!(
            "read it back with: loamwright estimate \"{path}\"; or use --force"
        ));
    check(
        &[problem],
        Room::OneScreen,
        &format!(
            "error: estimate.xlsx was changed, so it is not replaced\n  \
               at {path}\n  \
               hint: read it back with: loamwright estimate\n    \
                 \"{path}\";\n    \
                 or use --force\n"
        ),
    );
}

#[test]
fn what_else_a_cell_has_follows_in_the_same_block() {
    let at = RowAt { table: 0, row: 7 };
    let rare = Problem::notice("a bed this long is rare").at(at, "Length");
    check(
        &[rare, unit(7)],
        Room::Endless,
        "error: Length needs a unit\n  \
           at nine beds.xlsx!Beds!D8, which holds \"9 or so\"\n  \
           hint: write 8 ft, or head the column \"Length (ft)\"\n  \
           also notice: a bed this long is rare\n",
    );
}

#[test]
fn no_line_is_wider_than_the_screen_unless_a_word_is() {
    let words = "苗床の長さ are wide letters that count twice ".repeat(9);
    let text = told(
        &[Problem::notice(words)],
        &beds(),
        Room::All,
        screen(80, 24),
    );
    assert!(text.lines().all(|line| line.width() <= 80), "{text}");
    assert!(text.lines().count() > 4);
}
