//! Liner, mesh and finish; beds bought whole; mounds.

use rust_decimal::Decimal;

use crate::model::bed::{Along, Shape};
use crate::model::by_hand;
use crate::model::frame::{UnitWall, Wall};
use crate::model::labour::Driver;
use crate::takeoff::Part;
use crate::takeoff::support::*;
use crate::units::{Amount, Length, Volume};

fn count(amount: Amount) -> Decimal {
    match amount {
        Amount::Count(n) => n.normalize(),
        other => panic!("{other:?} is no count"),
    }
}

fn square_feet(amount: Amount) -> Decimal {
    match amount {
        Amount::Area(area) => area.in_square_feet().round_dp(4).normalize(),
        other => panic!("{other:?} is no area"),
    }
}

#[test]
fn liner_mesh_and_finish() {
    let mut job = job_of(vec![boards_bed("A", 8, 4, 2)]);
    let frame = &mut job.frames[0];
    frame.liner = Some(LINER);
    frame.mesh = Some(MESH);
    frame.finish = Some(OIL);
    frame.coats = typed(2);
    walls(&mut job).cap = Some(CAP);
    let (found, _) = taken(&job);
    // Inside 2 (93 + 45) = 276 in x 18.5 in = 5106 in2 = 35.4583 ft2; not from a roll, so + 10%
    assert_eq!(square_feet(order(&found, LINER, Part::Liner)), d("39.0042"));
    // 32 ft2 + 24 ft x 3 in = 38 ft2, + 10%
    assert_eq!(square_feet(order(&found, MESH, Part::Mesh)), d("41.8"));
    // Outside face 24 ft x 18.5 in = 37 ft2; cap 32 - (96 - 11)(48 - 11)/144 = 10.1597; both twice
    assert_eq!(square_feet(order(&found, OIL, Part::Finish)), d("94.3194"));

    // From rolls: mesh 36 in wide with 6 in lap over 102 x 54 in: (54 - 6)/30 = 1.6, 2 strips of
    // 102 in = 51 ft2 (across: (102 - 6)/30 = 3.2, 4 strips of 54 in = 54 ft2); waste is not added.
    job.materials[MESH.index()].roll_width = Some(typed(inches("36")));
    job.materials[MESH.index()].lap = typed(inches("6"));
    // Liner 24 in wide: one strip of it, 276 in = 46 ft2.
    job.materials[LINER.index()].roll_width = Some(typed(inches("24")));
    // A litre covers 10 m2: 94.3194 ft2 = 8.7626 m2, so 0.87626 L.
    job.materials[OIL.index()].coverage = Some(typed(d("10000")));
    let (found, _) = taken(&job);
    assert_eq!(square_feet(order(&found, MESH, Part::Mesh)), d("51"));
    assert_eq!(square_feet(order(&found, LINER, Part::Liner)), d("46"));
    let Amount::Volume(oil) = order(&found, OIL, Part::Finish) else {
        panic!("oil is bought by volume")
    };
    assert_eq!(oil.in_litres().round_dp(4), d("0.8763"));
    assert_eq!(
        work(&found, Driver::LinerArea),
        (inches("276") * inches("18.5")).in_square_metres()
    );
}

#[test]
fn a_ready_made_bed_is_one_unit() {
    let mut tub = bed(
        "A",
        Shape::RoundEnded {
            length: ft("7"),
            width: ft("3"),
        },
    );
    tub.height = Some(ft("2"));
    let mut job = job_of(vec![tub]);
    job.frames[0] = frame("Tub", by_hand::unit(TUB));
    let (found, _) = taken(&job);
    assert_eq!(count(order(&found, TUB, Part::ReadyMade)), d("1"));
    assert_eq!(work(&found, Driver::Unit), d("1"));
    assert!(found.pieces.is_empty());
    // 19.0686 ft2 x 2 ft
    let volume = found.layers[0].volume;
    assert_eq!(volume.in_cubic_feet().round_dp(4), d("38.1372"));
    assert_eq!(found.problems, []);
    // Walls of 2 in: 32 in wide ends over 48 in straight: pi 16 x 16 + 32 x 48 = 2340.2477 in2
    job.frames[0].wall = Wall::ReadyMade(UnitWall {
        unit: TUB,
        thickness: typed(inches("2")),
    });
    let (found, _) = taken(&job);
    assert_eq!(
        (found.inside_area.in_square_feet() * d("144")).round_dp(4),
        d("2340.2477")
    );
}

#[test]
fn a_mound_slopes_from_its_foot() {
    // 8 x 4 ft on the ground, 1 ft high, sides 1 to 1: top 6 x 2 = 12, middle 7 x 3 = 21,
    // (32 + 4 x 21 + 12)/6 = 21.3333 ft3; upright walls would say 32.
    let mut mound = boards_bed("A", 8, 4, 2);
    mound.courses = None;
    mound.height = Some(ft("1"));
    let mut job = job_of(vec![mound]);
    job.frames[0] = frame("Mound", by_hand::mound());
    let (found, _) = taken(&job);
    assert_eq!(found.problems, []);
    assert_eq!(found.size, "8' x 4' on the ground, 1' high");
    assert_eq!(
        found.layers[0].volume.in_cubic_feet().round_dp(4),
        d("21.3333")
    );
    assert_eq!(found.wall_height, Length::ZERO);
    // Two layers take the same volume together, the lower one more of it.
    job.fills[0].layers.insert(
        0,
        layer(11, COMPOST, crate::model::fill::Depth::Fixed(inches("6"))),
    );
    let (found, _) = taken(&job);
    let sum: Volume = found.layers.iter().map(|l| l.volume).sum();
    assert_eq!(sum.in_cubic_feet().round_dp(4), d("21.3333"));
    assert!(found.layers[0].volume > found.layers[1].volume);
    // On falling ground the same is filled, and that is said.
    let level = job.beds[0].clone();
    job.beds[0] = falling(level.clone(), 5, Along::Length);
    let (fallen, _) = taken(&job);
    assert_eq!(fallen.layers[0].volume, found.layers[0].volume);
    assert_eq!(
        told(&fallen).iter().map(|t| (t.0, t.2)).collect::<Vec<_>>(),
        [("Slope %", "a mound is taken off as on level ground")]
    );
    job.beds[0] = level;
    // A liner has nothing to hang on.
    job.frames[0].liner = Some(LINER);
    let (found, _) = taken(&job);
    assert!(found.needs.iter().all(|need| need.part != Part::Liner));
    job.frames[0].liner = None;
    // 2 ft high would need 4 ft of width for the sides alone.
    job.beds[0].height = Some(ft("2"));
    let (found, _) = taken(&job);
    assert_eq!(told(&found)[0].0, "Height");
}
