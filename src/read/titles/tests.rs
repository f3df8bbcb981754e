//! Titles and names of sheets, in English and Spanish.

use super::*;

#[test]
fn a_line_of_many_titles_is_no_title() {
    let line = format!("Length{}, ft", ",c".repeat(200));
    assert_eq!(line.len(), 6 + 400 + 4);
    assert_eq!(column(&line, Sheet::Beds), None);
    let spaced = format!("Length{}ft", " ".repeat(300));
    assert_eq!(
        column(&spaced, Sheet::Beds),
        Some(known_field(("Length", Some(Unit::Foot))))
    );
}

#[track_caller]
fn check(title: &str, sheet: Sheet, field: &str, unit: Option<Unit>) {
    assert_eq!(
        column(title, sheet),
        Some(known_field((field, unit))),
        "{title}"
    );
}

fn known_field((field, unit): (&str, Option<Unit>)) -> (&'static str, Option<Unit>) {
    let fields = Sheet::ALL.into_iter().flat_map(|s| fields::of(s).iter());
    let found = fields.copied().find(|f| *f == field);
    (found.unwrap(), unit)
}

#[test]
fn titles_match_without_regard_to_case_spaces_and_units() {
    for title in [
        "Length (ft)",
        "length_ft",
        "Length, ft",
        "LENGTH [FT]",
        "Length in feet",
        "length-ft",
        "Length\n(ft)",
        "Length\r\nft",
        " Length\u{a0} (ft) ",
        "Length  in\u{a0}feet",
    ] {
        check(title, Sheet::Beds, "Length", Some(Unit::Foot));
    }
    check("LENGTH", Sheet::Beds, "Length", None);
    check(
        "notch_length_in",
        Sheet::Beds,
        "Notch length",
        Some(Unit::Inch),
    );
    check("Length (in)", Sheet::Beds, "Length", Some(Unit::Inch));
    check(
        "Volume limit (cu yd)",
        Sheet::Deliveries,
        "Volume limit",
        Some(Unit::CubicYard),
    );
    check(
        "volume_limit_cu_yd",
        Sheet::Deliveries,
        "Volume limit",
        Some(Unit::CubicYard),
    );
    check(
        "Weight limit tons",
        Sheet::Deliveries,
        "Weight limit",
        Some(Unit::Ton),
    );
    check(
        "Delivered density (lb/yd3)",
        Sheet::Materials,
        "Delivered density",
        Some(Unit::PoundPerCubicYard),
    );
    check("Measured (inside / outside)", Sheet::Beds, "Measured", None);
    check("Person hours", Sheet::Labour, "Person-hours", None);
    check("In kind value", Sheet::Workers, "In-kind value", None);
}

#[test]
fn percent_columns_go_by_their_bare_name_too() {
    for title in [
        "Burden %",
        "Burden",
        "burden_pct",
        "Burden (%)",
        "Burden percent",
    ] {
        check(title, Sheet::Workers, "Burden %", Some(Unit::Percent));
    }
    check("Match base", Sheet::Funding, "Match base", None);
    check("Match", Sheet::Funding, "Match %", Some(Unit::Percent));
}

#[test]
fn other_names_of_the_trade_are_known() {
    check("Qty", Sheet::Beds, "Count", None);
    check("Vendor", Sheet::Prices, "Supplier", None);
    check("Beds", Sheet::Irrigation, "Bed", None);
    assert_eq!(column("Colour", Sheet::Beds), None);
    assert_eq!(column("Lenght (ft)", Sheet::Beds), None);
    assert_eq!(column("", Sheet::Beds), None);
}

/// Each name of the table: its sheet, its column (empty for the sheet itself), the name.
fn all_names() -> Vec<(Sheet, String, String)> {
    let mut reader = csv::Reader::from_reader(ALSO_CALLED.as_bytes());
    let mut all = Vec::new();
    for record in reader.records() {
        let record = record.unwrap();
        let sheet = Sheet::ALL.into_iter().find(|s| s.title() == &record[0]);
        let sheet = sheet.unwrap_or_else(|| panic!("{record:?}"));
        let names = [&record[2], &record[3]];
        let names = names.iter().flat_map(|cell| cell.split(';'));
        let names = names.filter(|name| !name.is_empty());
        all.extend(names.map(|n| (sheet, record[1].to_owned(), n.to_owned())));
    }
    all
}

#[test]
fn every_name_of_the_table_means_its_column_and_no_two_clash() {
    let mut seen = HashMap::new();
    for (sheet, field, name) in all_names() {
        if field.is_empty() {
            let clash = seen.insert((None, key(&name)), field);
            assert_eq!(clash, None, "{name} names two sheets");
            let found = super::sheet(&name);
            let right = [SheetName::Known(sheet), SheetName::Called(sheet)];
            assert!(right.contains(&found), "{name}: {found:?}");
            continue;
        }
        assert!(fields::of(sheet).contains(&&*field), "{sheet:?} {field}");
        let found = column(&name, sheet).map(|(field, _)| field);
        assert_eq!(found, Some(&*field), "{name} on {sheet:?}");
        let canonical = fields::of(sheet).iter().any(|f| key(f) == key(&name));
        assert!(!canonical, "{name} is a title itself");
        let clash = seen.insert((Some(sheet), key(&name)), field);
        assert_eq!(clash, None, "{name} twice on {sheet:?}");
    }
}

#[test]
fn every_sheet_and_column_has_a_spanish_name() {
    let names = all_names();
    let mut reader = csv::Reader::from_reader(ALSO_CALLED.as_bytes());
    for record in reader.records() {
        let record = record.unwrap();
        assert!(!record[3].is_empty(), "{record:?}");
    }
    for sheet in Sheet::ALL {
        let titles = fields::of(sheet).iter().copied().chain([""]);
        for field in titles {
            let has = names.iter().any(|(s, f, _)| *s == sheet && f == field);
            assert!(has, "{sheet:?} {field}");
        }
    }
}

#[test]
fn spanish_titles_take_their_units() {
    check("Largo (pies)", Sheet::Beds, "Length", Some(Unit::Foot));
    check("LARGO EN PIES", Sheet::Beds, "Length", Some(Unit::Foot));
    check("Alto (pulg)", Sheet::Beds, "Height", Some(Unit::Inch));
    check("alto_pulg.", Sheet::Beds, "Height", Some(Unit::Inch));
    check("Ancho (m)", Sheet::Beds, "Width", Some(Unit::Metre));
    check("Tama\u{f1}o", Sheet::Beds, "Size", None);
    check("Taman\u{303}o", Sheet::Beds, "Size", None);
    check("TAMANO", Sheet::Beds, "Size", None);
    let cubic = Some(Unit::CubicMetre);
    check(
        "Volumen máximo (m³)",
        Sheet::Deliveries,
        "Volume limit",
        cubic,
    );
    check(
        "Profundidad, cm",
        Sheet::Fills,
        "Depth",
        Some(Unit::Centimetre),
    );
    let percent = Some(Unit::Percent);
    check("Desperdicio", Sheet::Materials, "Waste %", percent);
    check("% Merma", Sheet::Materials, "Waste %", percent);
    check("% waste", Sheet::Materials, "Waste %", percent);
}

#[test]
fn sheets_go_by_title_by_other_names_and_by_first_words() {
    assert_eq!(sheet("BEDS"), SheetName::Known(Sheet::Beds));
    assert_eq!(sheet("bed"), SheetName::Known(Sheet::Beds));
    assert_eq!(sheet("Price list"), SheetName::Called(Sheet::Prices));
    assert_eq!(sheet("Labor"), SheetName::Called(Sheet::Labour));
    assert_eq!(sheet("Beds north"), SheetName::Begins(Sheet::Beds));
    assert_eq!(sheet("beds_south"), SheetName::Begins(Sheet::Beds));
    assert_eq!(sheet("Beds (2)"), SheetName::Begins(Sheet::Beds));
    assert_eq!(sheet("02 Prices 2026"), SheetName::Begins(Sheet::Prices));
    assert_eq!(sheet("Bancales norte"), SheetName::Begins(Sheet::Beds));
    assert_eq!(sheet("Raised beds rear"), SheetName::Begins(Sheet::Beds));
    assert_eq!(
        sheet("Lista de precios 2026"),
        SheetName::Begins(Sheet::Prices)
    );
    assert_eq!(sheet("MANO DE OBRA"), SheetName::Called(Sheet::Labour));
    assert_eq!(sheet("Áreas"), SheetName::Known(Sheet::Areas));
    assert_eq!(sheet("Work to do"), SheetName::Unknown);
    assert_eq!(sheet("Sheet1"), SheetName::Unknown);
    assert_eq!(sheet("Old beds"), SheetName::Unknown);
}
