use super::*;

fn m(text: &str) -> Length {
    Length::metres(text.parse().unwrap())
}

fn band(words: &str, depth: &str, pattern: Pattern) -> Band {
    Band {
        words: words.to_owned(),
        depth: m(depth),
        pattern,
    }
}

/// 1.2 m between walls of 50 mm; two courses of 200 mm; 120 mm of wood, cardboard, 240 mm of soil.
fn bed() -> Across<'static> {
    Across {
        name: "Bed A",
        clear: m("1.1"),
        wall: m("0.05"),
        rim: (m("0.4"), m("0.4")),
        course: Some(m("0.2")),
        top_course: m("0.2"),
        side_slope: None,
        fill: m("0.36"),
        bands: vec![
            band("Brush, 120 mm", "0.12", Pattern::Wood),
            band("1 sheet Cardboard", "0", Pattern::Other),
            band("Soil, 240 mm", "0.24", Pattern::Soil),
        ],
        stands_above: Length::ZERO,
        sink: Length::ZERO,
        system: System::Metric,
    }
}

const ROOM: (Paper, Paper) = (80 * MM, 60 * MM);

fn layers(drawing: &Drawing) -> Vec<(Paper, Paper)> {
    let areas = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Area {
            outlines,
            pattern: Some(Pattern::Wood | Pattern::Soil),
            ..
        } => Some(outlines[0].clone()),
        _ => None,
    });
    areas
        .map(|outline| {
            let down = outline.iter().map(|(_, y)| *y);
            (down.clone().min().unwrap(), down.max().unwrap())
        })
        .collect()
}

#[test]
fn layers_stand_on_the_ground_at_their_depths() {
    let drawn = section(&bed(), ROOM, 40 * MM);
    // 1.2 m over the walls in 80 mm: 1:15; 0.4 m is 26.67 mm, so the ground is 6 + 26.67 mm down.
    assert_eq!(drawn.scale.one_to, 15);
    let ground = 600 + 2_667;
    // 120 mm is 8 mm, 360 mm is 24 mm.
    assert_eq!(
        layers(&drawn),
        [(ground - 800, ground), (ground - 2_400, ground - 800)]
    );
    let text = |wanted: &str| {
        drawn
            .marks
            .iter()
            .any(|mark| matches!(mark, Mark::Words { text, .. } if text == wanted))
    };
    assert!(text("Soil, 240 mm") && text("1 sheet Cardboard") && text("1.1 m"));
    // Marks up from the ground: 120 and 120 + 240 mm.
    assert!(text("120 mm") && text("360 mm"));
}

#[test]
fn the_low_side_of_sloping_ground_is_taller() {
    let mut sloping = bed();
    sloping.rim = (m("0.4"), m("0.5"));
    let drawn = section(&sloping, ROOM, 40 * MM);
    let walls: Vec<_> = drawn
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Area {
                outlines,
                pattern: Some(Pattern::Wall),
                ..
            } => Some(outlines[0][0].1 - outlines[0][2].1),
            _ => None,
        })
        .collect();
    // 400 and 500 mm at 1:15.
    assert_eq!(walls, [2_667, 3_333]);
}

#[test]
fn a_bed_much_wider_than_high_is_drawn_broken_with_its_true_measure() {
    let mut wide = bed();
    wide.clear = m("6");
    let drawn = section(&wide, ROOM, 40 * MM);
    // 3 x 0.4 + 2 x 0.05 = 1.3 m in 80 mm: 1:20.
    assert_eq!(drawn.scale.one_to, 20);
    let told = drawn
        .marks
        .iter()
        .any(|mark| matches!(mark, Mark::Words { text, .. } if text == "6 m"));
    assert!(told);
}
