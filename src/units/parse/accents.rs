//! Letters without their accents, so that `Tamaño` and `TAMANO` are one word.

/// `text` with the accented letters of Western languages as plain ones, also when an accent is a
/// character of its own, as in file names of some systems.
pub(crate) fn without_accents(text: &str) -> impl Iterator<Item = char> + '_ {
    let letters = text.chars().filter(|c| !matches!(c, '\u{300}'..='\u{36f}'));
    letters.map(plain_letter)
}

const fn plain_letter(c: char) -> char {
    match c {
        'á' | 'à' | 'â' | 'ä' | 'ã' | 'å' | 'Á' | 'À' | 'Â' | 'Ä' | 'Ã' | 'Å' => 'a',
        'é' | 'è' | 'ê' | 'ë' | 'É' | 'È' | 'Ê' | 'Ë' => 'e',
        'í' | 'ì' | 'î' | 'ï' | 'Í' | 'Ì' | 'Î' | 'Ï' => 'i',
        'ó' | 'ò' | 'ô' | 'ö' | 'õ' | 'Ó' | 'Ò' | 'Ô' | 'Ö' | 'Õ' => 'o',
        'ú' | 'ù' | 'û' | 'ü' | 'Ú' | 'Ù' | 'Û' | 'Ü' => 'u',
        'ñ' | 'Ñ' => 'n',
        'ç' | 'Ç' => 'c',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_fall_off_in_both_of_their_forms() {
        let plain = |text| without_accents(text).collect::<String>();
        assert_eq!(plain("Tamaño"), "Tamano");
        assert_eq!(plain("Taman\u{303}o"), "Tamano");
        assert_eq!(plain("ÁREA útil"), "aREA util");
        assert_eq!(plain("Ø 3 m²"), "Ø 3 m²");
    }
}
