//! Which bed bears the wall that two share.

use super::job;

/// Of beds A and B with these heights, courses and slopes, which bears their wall.
#[track_caller]
fn check(a: &str, b: &str, bearer: &str) {
    let titles = "Bed,Length,Width,Frame,Joins,Height,Courses,Slope %,Slope along";
    for rows in [
        format!("A,8 ft,4 ft,2x10,B 8 ft,{a}\nB,8 ft,4 ft,2x10,,{b}"),
        format!("B,8 ft,4 ft,2x10,A 8 ft,{b}\nA,8 ft,4 ft,2x10,,{a}"),
    ] {
        let job = job(&[("Beds", &format!("{titles}\n{rows}\n"))]);
        let bears = |name: &str| {
            let bed = job.beds.iter().find(|bed| &*bed.name == name).unwrap();
            assert_eq!(bed.joins.len(), 1);
            let with = &job.beds[bed.joins[0].with.index()];
            assert_ne!(with.name, bed.name);
            bed.joins[0].bears
        };
        let borne = ["A", "B"].map(bears);
        assert_eq!(borne, ["A", "B"].map(|name| name == bearer), "{rows}");
    }
}

#[test]
fn the_higher_bed_bears_the_wall_then_the_steeper_then_the_first_by_name() {
    check("18 in,,,", "18 in,,,", "A");
    check("18 in,,,", "24 in,,,", "B");
    check(",2,,", ",3,,", "B");
    check(",3,,", ",2,,", "A");
    check("18 in,,,", "18 in,,4%,length", "B");
    check("24 in,,,", "18 in,,4%,length", "A");
    check("18 in,,,", "18 in,,0%,length", "A");
    check("18 in,,2%,length", "18 in,,4%,width", "B");
}

/// Several neighbours stand in the order of their names, whatever the order of rows and cells.
#[test]
fn neighbours_come_by_name() {
    let beds = "Bed,Length,Width,Frame,Height,Joins\n\
                M,8 ft,4 ft,2x10,18 in,Z 8 ft; C 8 ft\n\
                Z,8 ft,4 ft,2x10,18 in,\n\
                C,8 ft,4 ft,2x10,18 in,\n";
    let job = job(&[("Beds", beds)]);
    let names = job.beds[0]
        .joins
        .iter()
        .map(|j| &*job.beds[j.with.index()].name);
    assert_eq!(names.collect::<Vec<_>>(), ["C", "Z"]);
}
