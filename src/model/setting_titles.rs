//! The titles of the settings on the `Job` sheet.

use super::library::folded;
use crate::units::parse::without_accents;

/// Every setting by its title, with other ways in which the trade says it, in English and Spanish.
pub const TITLES: &[(&str, &[&str])] = &[
    (
        "Job name",
        &[
            "Job",
            "Project",
            "Project name",
            "Trabajo",
            "Obra",
            "Proyecto",
            "Nombre del trabajo",
            "Nombre de la obra",
            "Nombre del proyecto",
        ],
    ),
    ("Client", &["Customer", "Cliente"]),
    (
        "Estimate number",
        &[
            "Quote number",
            "Estimate no",
            "Número de presupuesto",
            "Presupuesto no",
            "Número",
        ],
    ),
    ("Revision", &["Revisión"]),
    ("Prepared by", &["Estimator", "Preparado por", "Hecho por"]),
    (
        "Date",
        &[
            "Estimate date",
            "Quote date",
            "Fecha",
            "Fecha del presupuesto",
        ],
    ),
    (
        "Valid days",
        &[
            "Valid for days",
            "Validity",
            "Días de validez",
            "Validez",
            "Válido por días",
        ],
    ),
    ("Units", &["Unit system", "Unidades", "Sistema de unidades"]),
    (
        "Decimal mark",
        &["Decimal separator", "Separador decimal", "Signo decimal"],
    ),
    ("Currency", &["Moneda", "Divisa"]),
    ("Paper", &["Paper size", "Papel", "Tamaño de papel"]),
    ("Full after", &["Lleno después de", "Lleno tras"]),
    ("Crown", &["Corona"]),
    ("Freeboard", &["Below rim", "Borde libre", "Bajo el borde"]),
    ("Top-up", &["Recarga", "Relleno posterior"]),
    ("Kerf", &["Saw kerf", "Corte de sierra", "Ancho de corte"]),
    ("End trim", &["Recorte de puntas", "Despunte"]),
    (
        "Trimmed ends",
        &["Ends trimmed", "Puntas recortadas", "Extremos recortados"],
    ),
    (
        "Least offcut",
        &["Shortest offcut kept", "Retazo mínimo", "Sobrante mínimo"],
    ),
    ("Cut tolerance", &["Tolerancia de corte"]),
    ("Culls %", &["Culls", "Tablas malas %", "Descarte %"]),
    (
        "Ground work",
        &[
            "Ground",
            "Ground preparation",
            "Preparación del suelo",
            "Trabajo del suelo",
        ],
    ),
    (
        "Ground margin",
        &["Ground beyond walls", "Margen del suelo"],
    ),
    ("Swell %", &["Swell", "Bulking %", "Esponjamiento %"]),
    (
        "Spoil kept %",
        &["Spoil kept", "Spoil kept on site", "Tierra que queda %"],
    ),
    (
        "Crew size",
        &[
            "Crew",
            "Cuadrilla",
            "Tamaño de la cuadrilla",
            "Personas por cuadrilla",
        ],
    ),
    (
        "Usual worker",
        &["Usual crew", "Trabajador habitual", "Operario habitual"],
    ),
    (
        "Hours per day",
        &["Day length", "Horas por día", "Horas al día", "Jornada"],
    ),
    (
        "Set-up hours",
        &["Set-up", "Horas de preparación", "Preparación"],
    ),
    (
        "Season factor",
        &["Season", "Factor de temporada", "Temporada"],
    ),
    (
        "Overhead %",
        &["Overhead", "Gastos generales %", "Gastos generales"],
    ),
    (
        "Contingency %",
        &[
            "Contingency",
            "Imprevistos %",
            "Imprevistos",
            "Contingencia %",
            "Contingencia",
        ],
    ),
    (
        "Profit %",
        &[
            "Profit",
            "Ganancia %",
            "Ganancia",
            "Utilidad %",
            "Utilidad",
            "Beneficio %",
            "Beneficio",
        ],
    ),
    (
        "Profit as",
        &["Ganancia como", "Utilidad como", "Beneficio como"],
    ),
    (
        "Tax mode",
        &["Sales tax mode", "Modo de impuesto", "Impuesto sobre"],
    ),
    (
        "Tax %",
        &[
            "Sales tax",
            "Sales tax %",
            "Tax rate",
            "Impuesto %",
            "Impuesto",
            "IVA",
            "IVA %",
        ],
    ),
    ("Taxed categories", &["Categorías gravadas"]),
    (
        "Exemption",
        &["Tax exemption", "Exención", "Exención de impuesto"],
    ),
    (
        "Round price to",
        &["Round to", "Redondear a", "Redondear precio a", "Redondeo"],
    ),
    (
        "Client sees contingency",
        &[
            "Contingency shown",
            "Show contingency",
            "Cliente ve imprevistos",
            "Mostrar imprevistos",
        ],
    ),
    ("Minimum charge", &["Minimum", "Cargo mínimo", "Mínimo"]),
    ("Rounding", &["Round", "Forma de redondeo"]),
    (
        "Materials markup %",
        &[
            "Markup on materials",
            "Recargo de materiales",
            "Recargo sobre materiales",
        ],
    ),
    (
        "Delivery markup %",
        &[
            "Markup on delivery",
            "Recargo de entrega",
            "Recargo sobre transporte",
        ],
    ),
    (
        "Labour markup %",
        &[
            "Labor markup %",
            "Markup on labour",
            "Markup on labor",
            "Recargo de mano de obra",
        ],
    ),
    (
        "Equipment markup %",
        &[
            "Markup on equipment",
            "Recargo de equipo",
            "Recargo sobre maquinaria",
        ],
    ),
    (
        "Other markup %",
        &[
            "Markup on other costs",
            "Recargo de otros costos",
            "Recargo de otros costes",
        ],
    ),
    (
        "Allowances markup %",
        &["Markup on allowances", "Recargo de provisiones"],
    ),
    (
        "Overhead per hour",
        &[
            "Overhead an hour",
            "Hourly overhead",
            "Gastos generales por hora",
        ],
    ),
    (
        "Discount",
        &["Discount amount", "Descuento", "Importe del descuento"],
    ),
    (
        "Discount for",
        &[
            "Reason for discount",
            "Descuento por",
            "Motivo del descuento",
        ],
    ),
    (
        "New tax %",
        &["New tax rate", "Impuesto nuevo %", "Nuevo impuesto %"],
    ),
    (
        "New tax from",
        &[
            "New tax date",
            "Impuesto nuevo desde",
            "Nuevo impuesto desde",
        ],
    ),
    (
        "Budget form",
        &[
            "Form of the budget",
            "Formato del presupuesto de subvención",
        ],
    ),
    (
        "Tax recovered %",
        &[
            "Recoverable tax %",
            "VAT recovered %",
            "Impuesto recuperado %",
            "IVA recuperado %",
        ],
    ),
    ("Buying", &["Compra", "Modo de compra"]),
    (
        "Stale days",
        &[
            "Prices stale after days",
            "Precios viejos después de días",
            "Días de vigencia de precios",
        ],
    ),
    (
        "Working days",
        &[
            "Work days",
            "Work week",
            "Días de trabajo",
            "Días laborables",
        ],
    ),
    (
        "Days off",
        &[
            "Holidays",
            "Days without work",
            "Días libres",
            "Festivos",
            "Feriados",
        ],
    ),
    (
        "Days to settle",
        &["Settling wait", "Settling days", "Días de asentamiento"],
    ),
    (
        "Days to top-up",
        &["Top-up after days", "Días hasta el relleno"],
    ),
];

/// The title that a typed one means, without regard to case, accents, spaces and a percent sign at
/// its end.
pub fn title_of(typed: &str) -> Option<&'static str> {
    let plain = |name: &str| folded(&without_accents(name).collect::<String>());
    let wanted = plain(typed.trim_end_matches([':', '?', ' ']));
    let bare = wanted.trim_end_matches('%');
    let found = TITLES.iter().find(|(title, also)| {
        let title = plain(title);
        title == wanted
            || title.trim_end_matches('%') == bare
            || also.iter().any(|a| plain(a) == wanted)
    });
    found.map(|(title, _)| *title)
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    use super::*;

    #[test]
    fn every_way_to_say_a_setting_means_that_setting_only() {
        let mut seen = BTreeMap::new();
        for (title, also) in TITLES {
            for name in also.iter().chain([title]) {
                assert_eq!(title_of(name), Some(*title), "{name}");
                assert_eq!(seen.insert(folded(name), title), None, "{name}");
            }
        }
        assert_eq!(title_of("DIAS DE VALIDEZ:"), Some("Valid days"));
        assert_eq!(title_of("overhead"), Some("Overhead %"));
        assert_eq!(title_of("Colour"), None);
    }
}
