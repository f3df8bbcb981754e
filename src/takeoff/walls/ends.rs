//! Preservative on the ends of lumber.

use rust_decimal::Decimal;

use crate::model::labour::Driver;
use crate::model::material::MaterialId;
use crate::takeoff::Part;
use crate::takeoff::bill::Bill;
use crate::units::Area;

/// Both ends of every piece on the bill: a crew does not sort the ends that the mill treated from
/// those that it cut itself.
///
/// The area is twice the dressed section of each piece; a treatment with a stated coverage is needed
/// by volume, any other by area.
pub(super) fn treat(bill: &mut Bill<'_>, treatment: MaterialId) {
    let (mut ends, mut area) = (Decimal::ZERO, Area::ZERO);
    for (material, count) in bill.counts() {
        let section = bill.material(material).and_then(|m| m.section.as_ref());
        let Some(section) = section.map(|s| &s.value) else {
            continue;
        };
        let of_these = Decimal::from(count).saturating_mul(Decimal::TWO);
        ends = ends.saturating_add(of_these);
        area += (section.face * section.thickness).times(of_these);
    }
    bill.work(Driver::CutEnd, ends);
    let net = bill.spread(treatment, area);
    let order = net.times(bill.with_waste(treatment));
    bill.need(treatment, Part::EndTreatment, net, order);
}
