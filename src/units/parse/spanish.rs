//! Spanish names of units, as headers and cells of gardeners in both Americas and in Spain spell them.

use super::Unit;

/// Spellings, without accents, spaces and dots and in lower case.
pub(super) const SPELLINGS: &[(Unit, &[&str])] = &[
    (Unit::Inch, &["pulg", "pulgs", "plg", "pulgada", "pulgadas"]),
    (Unit::Foot, &["pie", "pies"]),
    (Unit::Yard, &["yarda", "yardas"]),
    (Unit::Mile, &["milla", "millas"]),
    (Unit::Millimetre, &["milimetro", "milimetros"]),
    (Unit::Centimetre, &["centimetro", "centimetros", "cms"]),
    (Unit::Metre, &["metro", "metros", "mts"]),
    (Unit::Kilometre, &["kilometro", "kilometros", "kms"]),
    (
        Unit::SquareFoot,
        &["pie2", "pies2", "piecuadrado", "piescuadrados"],
    ),
    (
        Unit::SquareMetre,
        &["metro2", "metros2", "metrocuadrado", "metroscuadrados"],
    ),
    (
        Unit::CubicFoot,
        &["pie3", "pies3", "piecubico", "piescubicos"],
    ),
    (
        Unit::CubicYard,
        &["yarda3", "yardas3", "yardacubica", "yardascubicas"],
    ),
    (
        Unit::CubicMetre,
        &["metro3", "metros3", "metrocubico", "metroscubicos"],
    ),
    (Unit::Gallon, &["galon", "galones"]),
    (Unit::Litre, &["litro", "litros", "lts", "lt"]),
    (Unit::Ounce, &["onza", "onzas"]),
    (Unit::Pound, &["libra", "libras"]),
    (Unit::Gram, &["gramo", "gramos"]),
    (Unit::Kilogram, &["kilogramo", "kilogramos"]),
    (
        Unit::Each,
        &[
            "pieza", "piezas", "pza", "pzas", "unidad", "unidades", "ud", "uds", "cadauno",
        ],
    ),
    (Unit::Percent, &["porciento", "porcentaje"]),
    (Unit::Hour, &["hora", "horas", "hs"]),
    (Unit::Minute, &["minuto", "minutos"]),
    (Unit::Day, &["dias"]),
];

#[cfg(test)]
mod tests {
    use super::super::unit;
    use super::*;

    #[test]
    fn every_spelling_is_read_with_and_without_accents() {
        for (meant, spellings) in SPELLINGS {
            for spelling in *spellings {
                assert_eq!(unit(spelling), Some(*meant), "{spelling}");
            }
        }
        assert_eq!(unit("metros cúbicos"), Some(Unit::CubicMetre));
        assert_eq!(unit("Pulg."), Some(Unit::Inch));
        assert_eq!(unit("PIES"), Some(Unit::Foot));
    }
}
