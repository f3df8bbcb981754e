//! What the JSON promises: exact figures with units, one order, one layout, and no places in files.

use serde_json::Value;

use super::*;
use crate::write::fixture::{Came, estimate};

fn parsed() -> Value {
    serde_json::from_str(&json(&estimate(Came::Workbook)).unwrap()).unwrap()
}

#[track_caller]
fn check_at(pointer: &str, expected: &str) {
    let tree = parsed();
    let found = tree
        .pointer(pointer)
        .unwrap_or_else(|| panic!("nothing at {pointer}"));
    assert_eq!(found.to_string(), expected, "{pointer}");
}

#[test]
fn figures_are_strings_with_their_units() {
    // 93 in x 45 in = 4,185 in2 = 29.0625 ft2
    check_at(
        "/beds/0/inside_area",
        r#"{"number":"29.0625","unit":"ft2"}"#,
    );
    check_at("/beds/0/wall_height", r#"{"number":"18.5","unit":"in"}"#);
    check_at(
        "/kinds/0/layers/0/order",
        r#"{"number":"1.66","unit":"yd3"}"#,
    );
    check_at("/orders/0/cost", r#""294.00""#);
    check_at("/orders/0/unit_price", r#""42""#);
    check_at("/price/total", r#""1075.00""#);
    check_at("/hours/0/person_hours", r#"{"number":"3.32","unit":"h"}"#);
    check_at(
        "/trips/0/loads/0/weight",
        r#"{"number":"15400","unit":"lb"}"#,
    );
}

#[test]
fn beds_and_needs_stand_in_an_order_of_their_own() {
    let tree = parsed();
    let names: Vec<&str> = tree["beds"]
        .as_array()
        .unwrap()
        .iter()
        .map(|bed| bed["name"].as_str().unwrap())
        .collect();
    assert_eq!(names, ["Bed 2", "Bed 10", "Round 1"]);
    check_at("/beds/0/count", "2");
    check_at("/beds/0/price", r#""600.00""#);
    check_at("/beds/1/kind", r#""Bed 10""#);
    check_at("/kinds/0/needs/0/part", r#""wall boards""#);
    check_at("/kinds/0/needs/1/part", r#""fill layer""#);
    check_at("/kinds/0/pieces/0/mark", r#""long side""#);
}

#[test]
fn a_cut_list_tells_its_offcuts_and_whether_it_is_the_cheapest() {
    // 378.00 paid, and no cutting could go below 370.13: not proven.
    check_at("/cut_list/0/proven", "false");
    check_at("/cut_list/0/lower_bound", r#""370.13""#);
    // Two patterns of six sticks each leave the same 2.75 in, less than the foot that is kept.
    check_at(
        "/cut_list/0/offcuts",
        r#"[{"count":12,"kept":false,"length":{"number":"2.75","unit":"in"}}]"#,
    );
    let mut proven = estimate(Came::Workbook);
    proven.bought.cut_lists[0].proven = true;
    let tree: Value = serde_json::from_str(&json(&proven).unwrap()).unwrap();
    assert_eq!(tree["cut_list"][0]["proven"], true);
}

#[test]
fn the_form_and_the_row_order_of_the_job_change_no_byte() {
    let workbook = json(&estimate(Came::Workbook)).unwrap();
    let csv = json(&estimate(Came::Csv)).unwrap();
    assert_eq!(workbook, csv);
    assert!(!workbook.contains(".xlsx") && !workbook.contains(".csv"));
}

#[test]
fn messages_name_the_row_and_not_the_cell() {
    check_at("/cautions/0/sheet", r#""Beds""#);
    check_at("/cautions/0/row", r#""Bed 2""#);
    check_at("/cautions/0/column", r#""Height""#);
    // The notice about a hidden row is about the file, not the job.
    check_at("/notices/0/row", r#""Bed 10""#);
    assert_eq!(parsed()["notices"].as_array().unwrap().len(), 1);
}

#[test]
fn a_price_that_is_not_complete_says_so_at_the_head() {
    check_at("/job/price_complete", "false");
    check_at(
        "/price/without_price",
        r#"["Steel ring 48 in: no price at any supplier"]"#,
    );
}

#[test]
fn settings_tell_where_they_came_from() {
    let tree = parsed();
    let setting = |name: &str| {
        let all = tree["settings"].as_array().unwrap();
        all.iter()
            .find(|s| s["setting"] == name)
            .unwrap()
            .to_string()
    };
    assert_eq!(
        setting("Overhead %"),
        r#"{"origin":"job","setting":"Overhead %","unit":"%","value":"12"}"#
    );
    assert_eq!(
        setting("Contingency %"),
        r#"{"origin":"not set, taken as 0%","setting":"Contingency %","unit":"%","value":"0"}"#
    );
    assert_eq!(
        setting("Kerf"),
        r#"{"origin":"not set","setting":"Kerf","unit":"in","value":"0.125"}"#
    );
}

#[test]
fn what_is_written_reads_back_and_nothing_undeclared_is_accepted() {
    let text = json(&estimate(Came::Workbook)).unwrap();
    let back: EstimateJson = serde_json::from_str(&text).unwrap();
    assert_eq!(back, tree(&estimate(Came::Workbook)));
    let mut extra: Value = serde_json::from_str(&text).unwrap();
    extra["beds"][0]["colour"] = "green".into();
    assert!(serde_json::from_value::<EstimateJson>(extra).is_err());
}

#[test]
fn the_published_schema_is_current() {
    let published = include_str!("../../templates/estimate.schema.json");
    assert!(
        schema().unwrap() == published,
        "write it anew with: loamwright schema > templates/estimate.schema.json"
    );
}

#[test]
fn every_key_that_is_written_is_declared_in_the_schema() {
    let schema: Value = serde_json::from_str(&schema().unwrap()).unwrap();
    check_declared(&parsed(), &schema, &schema, "");
}

/// Walks the file and the schema together.
fn check_declared(value: &Value, declared: &Value, schema: &Value, place: &str) {
    let declared = resolve(declared, schema);
    match value {
        Value::Object(map) => {
            assert_eq!(declared["additionalProperties"], false, "{place}");
            for (key, inner) in map {
                let property = &declared["properties"][key];
                assert!(!property.is_null(), "{place}/{key} is not declared");
                check_declared(inner, property, schema, &format!("{place}/{key}"));
            }
        }
        Value::Array(list) => {
            for inner in list {
                check_declared(inner, &declared["items"], schema, place);
            }
        }
        _ => {}
    }
}

fn resolve<'a>(declared: &'a Value, schema: &'a Value) -> &'a Value {
    if let Some(reference) = declared["$ref"].as_str() {
        return schema.pointer(reference.trim_start_matches('#')).unwrap();
    }
    match declared["anyOf"].as_array() {
        Some(choices) => resolve(&choices[0], schema),
        None => declared,
    }
}
