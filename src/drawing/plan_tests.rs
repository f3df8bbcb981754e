use super::*;
use crate::drawing::paper::Paper;
use crate::takeoff::curved::Curved;
use crate::takeoff::outline::Outline;

fn m(text: &str) -> Length {
    Length::metres(text.parse().unwrap())
}

fn faces_of(outside: Figure, wall: &str) -> Faces {
    let thickness = m(wall);
    let inside = outside.inward(thickness).unwrap();
    Faces {
        outside,
        inside,
        thickness,
    }
}

fn above(faces: &Faces) -> Above<'_> {
    Above {
        faces,
        top: Some(Pattern::Soil),
        slope: None,
        drip: None,
        system: System::Metric,
        name: "Bed A",
    }
}

fn texts(drawing: &Drawing) -> Vec<String> {
    let marks = drawing.marks.iter();
    let words = marks.filter_map(|mark| match mark {
        Mark::Words { text, .. } => Some(text.clone()),
        _ => None,
    });
    words.collect()
}

const ROOM: (Paper, Paper) = (80 * MM, 60 * MM);

#[test]
fn a_rule_on_the_paper_measures_the_bed() {
    // 2.4 x 1.2 m at 1:50 is 48 x 24 mm; 1,152 mm2 on paper x 50 x 50 = 2.88 m2.
    let bed = faces_of(
        Figure::Rectangle {
            length: m("2.4"),
            width: m("1.2"),
        },
        "0.05",
    );
    let drawn = plan(&above(&bed), ROOM);
    assert_eq!(drawn.scale.one_to, 50);
    let outline = outline_on_paper(&bed, drawn.scale);
    assert_eq!(outline, [(0, 0), (4_800, 0), (4_800, 2_400), (0, 2_400)]);
    assert_eq!(
        texts(&drawn),
        ["2.4 m", "1.2 m", "1", "2", "3", "4", "inside 2.3 m x 1.1 m"]
    );
}

#[test]
fn what_is_drawn_is_as_large_as_what_is_taken_off() {
    let corner = |x, y| Point::new(m(x), m(y));
    let angle = Outline::new(vec![
        corner("0", "0"),
        corner("3", "0"),
        corner("3", "1"),
        corner("1", "1"),
        corner("1", "2"),
        corner("0", "2"),
    ]);
    let figures = [
        Figure::Straight(angle.unwrap()),
        Figure::Regular {
            sides: 6,
            side: m("0.8"),
        },
        Figure::Curved(Curved::Ellipse {
            along: m("1.5"),
            across: m("0.7"),
        }),
        Figure::Curved(Curved::Keyhole {
            radius: m("1.2"),
            basket: m("0.3"),
            angle: Decimal::ZERO,
            aside: m("0.25"),
        }),
    ];
    for figure in figures {
        let bed = faces_of(figure, "0.04");
        let scale = plan(&above(&bed), ROOM).scale;
        let outline = outline_on_paper(&bed, scale);
        let twice: i64 = sides(&outline).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
        // Square hundredths of a millimetre to square metres: 1 / 10^10, and the scale squared.
        let scale = Decimal::from(scale.one_to);
        let drawn =
            Decimal::from(twice) / Decimal::TWO / Decimal::from(10_000_000_000_i64) * scale * scale;
        let true_area = bed.outside.area().in_square_metres();
        let off = ((drawn - true_area) / true_area).abs();
        assert!(off < Decimal::new(2, 3), "{drawn} for {true_area}");
    }
}

#[test]
fn each_side_of_an_odd_shape_has_its_measure() {
    let corner = |x, y| Point::new(m(x), m(y));
    let corners = vec![corner("0", "0"), corner("3", "0"), corner("0", "4")];
    let bed = faces_of(Figure::Straight(Outline::new(corners).unwrap()), "0.04");
    let drawn = plan(&above(&bed), ROOM);
    // 3, 4 and 5.
    assert_eq!(texts(&drawn), ["3 m", "5 m", "4 m", "1", "2", "3"]);
    assert_eq!(
        drawn.alt,
        "Plan of Bed A, 3 m by 4 m over the walls, drawn at 1:75"
    );
}
