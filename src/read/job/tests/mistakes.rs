//! Usual mistakes, and exactly what is said about each.

use super::{Sheets, check_bed_error, check_errors, read, told};
use crate::problem::Severity;

const ONE_BED: &str = "Bed,Length (ft),Width (ft),Height (in),Frame,Fill\nA1,8,4,18,2x10,Topsoil\n";

/// A sound bed beside a sheet with a mistake in it.
#[track_caller]
fn check_sheet(sheet: &str, text: &str, expected: &[&str]) {
    check_errors(&[("Beds", ONE_BED), (sheet, text)], expected);
}

#[test]
fn a_frame_that_is_nearly_known() {
    check_errors(
        &[
            ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,Ceder walls\n"),
            (
                "Frames",
                "Frame,Frame kind,Material\nCedar walls,boards,2x10\n",
            ),
        ],
        &[
            "error: Frame is not among Frames\n  at Beds.csv:2:3, which holds \"Ceder walls\"\n  hint: did you mean \"Cedar walls\"? Otherwise name a row of Frames, a board as 2x10, or none for a mound without walls",
        ],
    );
}

#[test]
fn beds_without_a_frame_column_are_asked_once() {
    check_errors(
        &[("Beds", "Bed,Size\nA1,4x8x18 in\nA2,4x8x18 in\n")],
        &[
            "error: Frame is not among the columns of the beds\n  at Beds.csv:2\n  hint: name a row of Frames, a board as 2x10, or none for a mound without walls",
        ],
    );
}

#[test]
fn a_wrong_frame_is_told_once_and_not_by_every_bed() {
    check_errors(
        &[
            (
                "Beds",
                "Bed,Size,Frame\nA1,4x8x18 in,Wall\nA2,4x8x18 in,Wall\n",
            ),
            ("Frames", "Frame,Frame kind,Material\nWall,logs,Oak\n"),
        ],
        &[
            "error: Frame kind is not built yet: it must be boards, modular, panels, blocks, ready-made, stone, timbers or none\n  at Frames.csv:2:2, which holds \"logs\"\n  hint: for other walls write ready-made, and the inside size of the bed",
        ],
    );
}

#[test]
fn two_beds_of_one_name() {
    check_errors(
        &[(
            "Beds",
            "Bed,Size,Frame\nA 1,4x8x18 in,2x10\na-1,4x8x18 in,2x10\n",
        )],
        &[
            "error: Bed is named twice\n  at Beds.csv:3:1, which holds \"a-1\"\n  hint: give each bed its own name, or set Count for beds that are alike",
        ],
    );
}

#[test]
fn a_bed_counts_whole_and_at_least_once() {
    check_bed_error(
        "Size,Count",
        "4x8x18 in,0",
        "error: Count must be a whole number of 1 or more\n  at Beds.csv:2:4, which holds \"0\"\n  hint: write how many alike, or delete the row",
    );
    for count in ["12.7", "-3"] {
        let text = format!("Bed,Frame,Size,Count\nA1,2x10,4x8x18 in,{count}\n");
        let errors = told(&[("Beds", &text)], Severity::Error);
        assert_eq!(errors.len(), 1, "{errors:?}");
        let place = format!("at Beds.csv:2:4, which holds \"{count}\"");
        assert!(errors[0].contains(&place), "{errors:?}");
    }
}

#[test]
fn each_shape_asks_for_its_own_columns() {
    check_bed_error(
        "Shape,Length (ft),Width (ft),Height (in),Notch length (ft),Notch width (ft)",
        "L,8,4,18,2,",
        "error: Notch width is missing, and a bed of shape L needs it\n  at Beds.csv:2:8\n  hint: write a length with its unit, as 4 ft or 1200 mm",
    );
    check_bed_error(
        "Shape,Height (in),Diameter (ft)",
        "round,18,",
        "error: Diameter is missing, and a circle needs it\n  at Beds.csv:2:5\n  hint: write a length with its unit, as 4 ft or 1200 mm",
    );
    check_bed_error(
        "Shape,Height (in),Diameter (ft),Basket (in),Notch width (in)",
        "keyhole,18,6,12,",
        "error: Notch width is missing, and a keyhole bed needs it for its path\n  at Beds.csv:2:7\n  hint: write the width of the path, as 18 in, or its angle in Path angle",
    );
}

#[test]
fn numbers_that_leave_no_bed() {
    check_bed_error(
        "Shape,Length (ft),Width (ft),Height (in),Notch length (ft),Notch width (ft)",
        "U,8,4,18,8,2",
        "error: Notch length must be less than Length\n  at Beds.csv:2:7, which holds \"8\"\n  hint: check both cells: what is cut out must leave a bed",
    );
    check_bed_error(
        "Shape,Height (in),Points (ft)",
        "polygon,18,\"0,0; 8,4; 8,0; 0,4\"",
        "error: Points must enclose a bed without crossing itself\n  at Beds.csv:2:5, which holds \"0,0; 8,4; 8,0; 0,4\"\n  hint: write the corners in order around the bed, each once",
    );
}

#[test]
fn a_bed_needs_a_height_or_courses() {
    check_bed_error(
        "Length (ft),Width (ft),Height (in)",
        "8,4,",
        "error: Height is missing, and Courses too\n  at Beds.csv:2:5\n  hint: write a height, as 18 in, or a number of courses",
    );
}

#[test]
fn a_shape_that_is_no_shape() {
    check_bed_error(
        "Size,Shape",
        "4x8x18 in,blob",
        "error: Shape must be one of rectangle, L, U, trapezoid, triangle, pentagon, hexagon, octagon, regular polygon, circle, quarter circle, ellipse, round-ended, keyhole, polygon\n  at Beds.csv:2:4, which holds \"blob\"\n  hint: write one of these words in Shape",
    );
}

#[test]
fn one_of_several_sites_must_be_named() {
    check_sheet(
        "Sites",
        "Site\nNorth\nSouth\n",
        &[
            "error: Site is missing, and the job has several\n  at Beds.csv:2\n  hint: the sites are: North, South",
        ],
    );
}

#[test]
fn layers_that_do_not_fit_together() {
    check_sheet(
        "Fills",
        "Fill,Material,Depth\nDeep,Cardboard,2 in\nDeep,Topsoil,rest\nDeep,Compost,rest\n",
        &[
            "error: Depth of a sheet must be a number of sheets\n  at Fills.csv:2:3, which holds \"2 in\"\n  hint: write how many lie on top of each other, as 1 sheet",
            "error: Depth is rest in two layers of one fill\n  at Fills.csv:4:3, which holds \"rest\"\n  hint: give all layers but one a depth or a percentage",
        ],
    );
    check_sheet(
        "Fills",
        "Fill,Material,Depth\nDeep,Logs,60%\nDeep,Topsoil,50%\n",
        &[
            "error: Depth as shares of one fill comes to more than 100%\n  at Fills.csv:3:3, which holds \"50%\"\n  hint: lower one of the percentages, or write rest",
        ],
    );
}

#[test]
fn a_material_that_nobody_knows() {
    check_sheet(
        "Fills",
        "Fill,Material,Depth\nDeep,Zeolite crumb,6 in\n",
        &[
            "error: Material is not a known material\n  at Fills.csv:2:2, which holds \"Zeolite crumb\"\n  hint: add a row for it to Materials with its Category",
        ],
    );
    check_sheet(
        "Materials",
        "Material,Category\nZeolite crumb,\n",
        &[
            "error: Category is missing\n  at Materials.csv:2:2\n  hint: write soil, compost, wood, sheet, lumber, block, fastener, ready-made … since the trade library does not know this material",
        ],
    );
    check_sheet(
        "Materials",
        "Material,Category,Wet-down %\nZeolite crumb,soil,100%\n",
        &[
            "error: Wet-down % must be under 100%\n  at Materials.csv:2:3, which holds \"100%\"\n  hint: write the share that is lost, as 12%",
        ],
    );
}

#[test]
fn a_material_in_the_wrong_column() {
    check_errors(
        &[
            ("Beds", "Bed,Size,Frame\nA1,4x8x18 in,Wall\n"),
            (
                "Frames",
                "Frame,Frame kind,Material,Fastener\nWall,boards,2x10,Topsoil\n",
            ),
        ],
        &[
            "error: Fastener must be a fastener, not soil\n  at Frames.csv:2:4, which holds \"Topsoil\"\n  hint: name another material, or give this one its Category in Materials",
        ],
    );
}

#[test]
fn amendments_need_something_to_be_measured_against() {
    check_sheet(
        "Amendments",
        "Fill,Material,Rate\nTopsoil,Garden lime,5 lb\n",
        &[
            "error: Rate needs an amount for an area, a volume or a bed\n  at Amendments.csv:2:3, which holds \"5 lb\"\n  hint: write 3 lb/100 ft2, 2 lb/yd3, 1 per bed or 5%",
        ],
    );
}

#[test]
fn packs_that_do_not_say_how_much() {
    check_sheet(
        "Prices",
        "Supplier,Material,Pack,Holds,Price\nYard,Topsoil,bag,,6\nYard,2x10,board,1 yd3,20\nYard,Topsoil,,1 yd3,40\n",
        &[
            "error: Holds is missing, and \"bag\" does not say how much that is\n  at Prices.csv:2:4\n  hint: write a volume or a weight, as 1 yd3, 1.5 ft3, 40 L or 1 ton",
            "error: Holds of lumber must be a length or each, as 12 ft\n  at Prices.csv:3:4, which holds \"1 yd3\"\n  hint: write what one pack holds, in a unit of that kind",
            "error: Pack is missing\n  at Prices.csv:4:3\n  hint: write yard, half yard, m3 or ton for loose goods, or bag",
        ],
    );
}

#[test]
fn a_ton_asks_outside_the_us() {
    check_errors(
        &[
            ("Job", "Setting,Value\nUnits,metric\n"),
            (
                "Beds",
                "Bed,Length (m),Width (m),Height (mm),Frame,Fill\nA1,2.4,1.2,300,47x150,Topsoil\n",
            ),
            (
                "Prices",
                "Supplier,Material,Pack,Holds,Price\nYard,Topsoil,ton,,40\n",
            ),
        ],
        &[
            "error: Pack is a ton, which differs from country to country\n  at Prices.csv:2:3, which holds \"ton\"\n  hint: write 1 tonne, or 2,000 lb, in Holds",
        ],
    );
}

#[test]
fn a_supplier_that_is_not_listed() {
    check_errors(
        &[
            ("Beds", ONE_BED),
            ("Suppliers", "Supplier\nHill Yard\n"),
            (
                "Prices",
                "Supplier,Material,Pack,Price\nHil Yard,Topsoil,yard,40\n",
            ),
        ],
        &[
            "error: Supplier is not among Suppliers\n  at Prices.csv:2:1, which holds \"Hil Yard\"\n  hint: did you mean \"Hill Yard\"? Otherwise add a row for it to Suppliers",
        ],
    );
}

#[test]
fn work_that_is_not_counted_by_anything() {
    check_sheet(
        "Labour",
        "Task,Person-hours,Per\nQqq,2,\nSpread,2,100 ft2\nspread,1,yd3\n",
        &[
            "error: Task is not in the trade library, and Per does not say what it is counted by\n  at Labour.csv:2:1, which holds \"Qqq\"\n  hint: for a task of your own write what it is counted by in Per, as bed or 100 ft2 of sheet",
            "error: Per of this task must be a volume of spread\n  at Labour.csv:3:3, which holds \"100 ft2\"\n  hint: write yd3, or give a task of your own another name",
            "error: Task is listed twice\n  at Labour.csv:4:1, which holds \"spread\"\n  hint: keep one row for each task",
        ],
    );
}

#[test]
fn settings_that_cannot_be_meant() {
    check_sheet(
        "Job",
        "Setting,Value\nProfit as,markdown\nCurrency,dollars\nCrew size,0\nKerf,1/8 in\nkerf,1/4 in\n",
        &[
            "error: Kerf is set twice\n  at Job.csv:6:1, which holds \"kerf\"\n  hint: keep one of the two rows",
            "error: Currency must be a currency code\n  at Job.csv:3:2, which holds \"dollars\"\n  hint: write three letters of ISO 4217, as USD, CAD, EUR or GBP",
            "error: Profit as must be one of markup, margin\n  at Job.csv:2:2, which holds \"markdown\"\n  hint: did you mean \"markup\"?",
            "error: Crew size must be 1 or more\n  at Job.csv:4:2, which holds \"0\"\n  hint: write how many people come",
        ],
    );
}

#[test]
fn people_and_machines_that_are_not_described() {
    check_sheet(
        "Extras",
        "Item,Rate,Per,Worker\nPermit,85,job,Cru\n",
        &[
            "error: Worker is not among Workers\n  at Extras.csv:2:4, which holds \"Cru\"\n  hint: add a row for it to Workers",
        ],
    );
    check_sheet(
        "Equipment",
        "Item,Hire step,Rate,Does,Output per hour\nLoader,day,200,haul,100 ft2\nTiller,day,90,Zzz,\n",
        &[
            "error: Output per hour is not measured as the work in Does is\n  at Equipment.csv:2:5, which holds \"100 ft2\"\n  hint: write 8 yd3, 100 ft2 or 12, as the work is measured",
            "error: Does is not a kind of work\n  at Equipment.csv:3:4, which holds \"Zzz\"\n  hint: write what it works on, as haul, spread or set post",
        ],
    );
}

#[test]
fn a_job_without_beds_says_so() {
    let errors = told(
        &[(
            "Prices",
            "Supplier,Material,Pack,Price\nYard,Topsoil,yard,40\n",
        )],
        Severity::Error,
    );
    assert_eq!(
        errors,
        [
            "error: there are no beds\n  hint: name a sheet or a file Beds, with columns Bed, Size, Frame and Fill"
        ]
    );
}

#[test]
fn a_wrong_row_is_left_out_and_the_others_are_kept() {
    let sheets: Sheets<'_> = &[(
        "Beds",
        "Bed,Size,Frame\nA1,4x8x18 in,2x10\nA2,,2x10\nA3,4x4x12 in,2x6\n",
    )];
    let job = read(sheets).output.unwrap().job;
    let names: Vec<&str> = job.beds.iter().map(|b| &*b.name).collect();
    assert_eq!(names, ["A1", "A3"]);
}
