//! The trade library as people see it, and what of it a job uses or overrides.

use std::fs;
use std::path::Path;

use loamwright::model::library::Library;
use loamwright::model::setting_titles::TITLES;
use loamwright::model::sheet::Sheet;
use loamwright::read::{fields, library};
use loamwright::write::shelf::{ShelfTable, shelf};
use serde_json::Value;
use tempfile::TempDir;

use crate::cli::run_in;
use crate::folders::root;

/// A job of one bed, 4 ft by 8 ft.
const BEDS: &str = "Bed,Size,Frame,Fill\nNorth,48x96x18.5 in,2x10,Compost\n";

fn tables(library: &Library) -> Vec<ShelfTable> {
    shelf(library).into_iter().collect()
}

/// What the program prints, when it ends well.
#[track_caller]
fn printed(folder: &Path, words: &[&str]) -> String {
    let output = run_in(folder, words, "");
    let talk = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{words:?}: {talk}");
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn every_figure_says_where_a_job_gives_its_own() {
    let library = library::builtin();
    let mut built_in = Vec::new();
    for table in tables(&library) {
        assert!(!table.rows.is_empty(), "{} is empty", table.name);
        for row in &table.rows {
            assert!(!row.figures.is_empty(), "{} {}", table.name, row.key);
            for figure in &row.figures {
                let place = library.override_of(table.name, &row.key, figure.column);
                let named = place.unwrap_or_else(|| {
                    panic!(
                        "templates/overrides.csv names no place for {} {}",
                        table.name, row.key
                    )
                });
                if named.place.is_none() {
                    built_in.push(row.key.to_string());
                }
            }
        }
    }
    // Takeoff has these as they are; a cell for them is still to come.
    let walls = [
        "block_play_in",
        "block_joint_widest_in",
        "bar_lap_in",
        "adhesive_bead_ft",
        "wall_base_wider",
    ];
    let laid = ["sheet_turn_up_in", "mesh_turn_up_in"];
    let stacked = ["anchor_cross_ft", "anchor_tier_in", "stone_mortar_pct"];
    let covered = ["ground_cover_sheets"];
    // A federal limit for purchases; nothing is reckoned with it.
    let bought = ["micro_purchase"];
    let watered = [
        "drip_need_in_week",
        "drip_efficiency_pct",
        "drip_zone_share_pct",
        "drip_riser_ft",
        "drip_stake_every_ft",
    ];
    // The longest runs of drip lines are a table of their own: five spacings, five classes of emitters.
    let runs = built_in.iter().filter(|key| key.starts_with("drip_run_"));
    assert_eq!(runs.count(), 25);
    built_in.retain(|key| !key.starts_with("drip_run_"));
    let all = [&walls[..], &laid, &stacked, &covered, &bought, &watered];
    assert_eq!(built_in, all.concat());
}

#[test]
fn the_places_for_figures_of_ones_own_are_columns_that_are_read() {
    let library = library::builtin();
    let rows = tables(&library);
    for entry in &library.overrides {
        let table = rows.iter().find(|t| t.name == &*entry.table);
        let table = table.unwrap_or_else(|| panic!("there is no table {}", entry.table));
        if let Some(key) = &entry.key {
            let found = table.rows.iter().any(|row| row.key == *key);
            assert!(found, "{} has no row {key}", entry.table);
        }
        if let Some(column) = &entry.column {
            let mut figures = table.rows.iter().flat_map(|row| &row.figures);
            let found = figures.any(|f| f.column == &**column);
            assert!(found, "{} has no column {column}", entry.table);
        }
        let Some((sheet, field)) = &entry.place else {
            continue;
        };
        let known = match sheet {
            Sheet::Job => TITLES.iter().any(|(title, _)| *title == &**field),
            other => fields::of(*other).contains(&&**field),
        };
        assert!(known, "{} has no column {field}", sheet.title());
    }
}

#[test]
fn a_source_is_named_only_where_it_was_seen() {
    let compost = printed(&root(""), &["defaults", "materials", "compost"]);
    // Its weight was looked up, its settling was not.
    assert!(
        compost.contains("Delivered density: Municipal recycling"),
        "{compost}"
    );
    assert!(compost.contains("the rest is typical, change it to your own"));
    // A textbook of 1908 is behind the figure, and nobody opened it.
    let loading = printed(&root(""), &["defaults", "figures", "loading"]);
    assert!(loading.contains("2.2 yd3/h (1.5 to 3)"), "{loading}");
    assert!(!loading.contains("Spalding"), "{loading}");
    let all = printed(&root(""), &["defaults", "--json"]);
    assert!(!all.contains("Spalding"));
    assert!(all.contains("Municipal recycling"));
}

#[test]
fn tables_fit_a_screen_of_eighty_columns() {
    for table in tables(&library::builtin()) {
        let text = printed(&root(""), &["defaults", table.name]);
        for line in text.lines() {
            assert!(line.chars().count() <= 80, "{line}");
        }
        // Names may be cut only where there is no second line for them, and none has to be.
        assert!(!text.contains('…'), "{text}");
    }
}

#[test]
fn exported_materials_and_tasks_are_read_as_the_job_s_own_and_change_no_figure() {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job");
    fs::create_dir(&job).unwrap();
    fs::write(job.join("Beds.csv"), BEDS).unwrap();
    let price = |name: &str| {
        let words = ["estimate", "job", "--out", name, "--json", "--quiet"];
        let text = printed(folder.path(), &words);
        serde_json::from_str::<Value>(&text).unwrap()
    };
    let plain = price("plain");
    for (table, file) in [("materials", "Materials.csv"), ("tasks", "Labour.csv")] {
        let out = format!("job/{file}");
        printed(folder.path(), &["defaults", table, "--out", &out]);
    }
    let told = printed(folder.path(), &["check", "job"]);
    assert!(told.contains("no errors"), "{told}");
    assert!(!told.contains("is not a column"), "{told}");
    let laid_over = price("laid-over");
    for part in ["kinds", "orders"] {
        assert!(!plain[part].is_null(), "{part} is in the estimate");
        assert_eq!(plain[part], laid_over[part], "{part}");
    }
    // The hours are the same; that they are typical is no longer said.
    let hours = |estimate: &Value| {
        let lines = estimate["hours"].as_array().unwrap().clone();
        assert!(lines.len() > 10);
        let told = |line: Value| (line["task"].clone(), line["person_hours"].clone());
        lines.into_iter().map(told).collect::<Vec<_>>()
    };
    assert_eq!(hours(&plain), hours(&laid_over));
}

/// A folder with a job that overrides three figures of the library.
fn overriding() -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    let job = folder.path().join("job");
    fs::create_dir(&job).unwrap();
    let materials = "Material,Delivered density\nCompost,1200 lb/yd3\n";
    let labour = "Task,Person-hours,Per\nSet out a bed,0.5,bed\n";
    for (name, text) in [
        ("Beds.csv", BEDS),
        ("Materials.csv", materials),
        ("Labour.csv", labour),
        ("Job.csv", "Setting,Value\nKerf,3/16 in\n"),
    ] {
        fs::write(job.join(name), text).unwrap();
    }
    folder
}

fn used(folder: &TempDir) -> Vec<Value> {
    let text = printed(folder.path(), &["defaults", "--used", "job", "--json"]);
    serde_json::from_str(&text).unwrap()
}

#[track_caller]
fn check_used(what: &str, taken_as: &str, place: Option<&str>, in_library: &str) {
    let list = used(&overriding());
    let found = list.iter().find(|used| used["what"] == what);
    let found = found.unwrap_or_else(|| panic!("{what} is not among {list:?}"));
    assert_eq!(found["taken_as"], taken_as);
    assert_eq!(found["overridden_by"].as_str(), place);
    assert_eq!(found["in_library"], in_library);
}

#[test]
fn what_a_job_takes_and_what_it_overrides_is_told_apart() {
    check_used("Wet-down loss of Compost", "15%", None, "15%");
    let density = "Delivered density of Compost";
    let place = Some("Materials.csv:2:2");
    check_used(density, "1,200 lb/yd3", place, "1,000 lb/yd3");
    let place = Some("Labour.csv:2:2");
    check_used("Set out a bed", "0.5 h per each", place, "0.2 h each");
    check_used("Kerf", "0.1875 in", Some("Job.csv:2:2"), "0.125 in");
    let shown = printed(overriding().path(), &["defaults", "--used", "job"]);
    assert!(shown.contains("Overridden by the job: 3"), "{shown}");
}

#[test]
fn what_a_job_takes_stands_under_the_assumptions_of_its_estimate_in_the_same_words() {
    let folder = overriding();
    let words = ["estimate", "job", "--out", "out", "--json", "--quiet"];
    let estimate: Value = serde_json::from_str(&printed(folder.path(), &words)).unwrap();
    let assumed = estimate["assumptions"].as_array().unwrap();
    let list = used(&folder);
    let taken = list.iter().filter(|used| used["overridden_by"].is_null());
    assert!(taken.clone().count() > 10);
    for used in taken {
        let same = |a: &Value| {
            let pairs = [("what", "what"), ("value", "taken_as"), ("basis", "basis")];
            pairs.iter().all(|(there, here)| a[there] == used[here])
        };
        assert!(assumed.iter().any(same), "{used}");
    }
}

#[test]
fn exports_replace_nothing_and_name_what_they_cannot_do() {
    let folder = tempfile::tempdir().unwrap();
    let refused = |words: &[&str], code: i32, told: &str| {
        let output = run_in(folder.path(), words, "");
        let talk = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(code), "{talk}");
        assert!(talk.contains(told), "{talk}");
    };
    refused(&["defaults", "--csv"], 2, "a CSV file holds one table");
    refused(
        &["defaults", "--out", "a.pdf"],
        2,
        "ends with .csv or .xlsx",
    );
    refused(
        &["defaults", "materials", "moonstone"],
        2,
        "no row of materials",
    );
    refused(&["defaults", "--used", "gone.xlsx"], 1, "gone.xlsx");
    printed(folder.path(), &["defaults", "--out", "a.xlsx"]);
    printed(folder.path(), &["defaults", "materials", "--out", "a.csv"]);
    let before = fs::read(folder.path().join("a.csv")).unwrap();
    let told = "a.csv is there already";
    refused(&["defaults", "tasks", "--out", "a.csv"], 1, told);
    assert_eq!(fs::read(folder.path().join("a.csv")).unwrap(), before);
    printed(
        folder.path(),
        &["defaults", "tasks", "--out", "a.csv", "--force"],
    );
    assert_ne!(fs::read(folder.path().join("a.csv")).unwrap(), before);
}
