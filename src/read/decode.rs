//! Bytes of a text table to text.

use chardetng::{EncodingDetector, Iso2022JpDetection, Utf8Detection};
use encoding_rs::{Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

/// Text, and the name of the encoding when it had to be guessed.
pub(super) struct Decoded {
    /// The text, without a byte order mark.
    pub(super) text: String,
    /// The encoding that was guessed, as `windows-1252`.
    pub(super) guessed: Option<&'static str>,
}

/// Decodes by byte order mark, else as UTF-8, else as UTF-16 when every other byte of the start is
/// zero, else by the statistics of single-byte encodings.
pub(super) fn decode(bytes: &[u8]) -> Decoded {
    if let Some((encoding, skip)) = Encoding::for_bom(bytes) {
        let rest = bytes.get(skip..).unwrap_or_default();
        return certain(encoding, rest);
    }
    if let Some(encoding) = bare_utf16(bytes) {
        return certain(encoding, bytes);
    }
    if let Ok(text) = std::str::from_utf8(bytes) {
        return Decoded {
            text: text.to_owned(),
            guessed: None,
        };
    }
    let mut detector = EncodingDetector::new(Iso2022JpDetection::Deny);
    detector.feed(bytes, true);
    let guess = detector.guess(None, Utf8Detection::Deny);
    let encoding = if guess.is_single_byte() {
        guess
    } else {
        WINDOWS_1252
    };
    Decoded {
        text: encoding.decode_without_bom_handling(bytes).0.into_owned(),
        guessed: Some(encoding.name()),
    }
}

fn certain(encoding: &'static Encoding, bytes: &[u8]) -> Decoded {
    let (text, broken) = encoding.decode_without_bom_handling(bytes);
    Decoded {
        text: text.into_owned(),
        guessed: (broken && encoding == UTF_8).then_some("UTF-8 with damaged characters"),
    }
}

fn bare_utf16(bytes: &[u8]) -> Option<&'static Encoding> {
    let start = bytes.get(..bytes.len().min(64))?;
    let zeros = |odd: usize| {
        let chosen = start.iter().skip(odd).step_by(2);
        chosen.filter(|b| **b == 0).count()
    };
    let most = start.len() / 2 * 3 / 4;
    match (zeros(0), zeros(1)) {
        _ if start.len() < 4 => None,
        (0, little) if little > most => Some(UTF_16LE),
        (big, 0) if big > most => Some(UTF_16BE),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn utf16(text: &str, little: bool) -> Vec<u8> {
        let pairs = text.encode_utf16();
        pairs
            .flat_map(|u| {
                if little {
                    u.to_le_bytes()
                } else {
                    u.to_be_bytes()
                }
            })
            .collect()
    }

    #[track_caller]
    fn check(bytes: &[u8], expected: &str, guessed: Option<&str>) {
        let decoded = decode(bytes);
        assert_eq!(decoded.text, expected);
        assert_eq!(decoded.guessed, guessed);
    }

    #[test]
    fn text_is_found_in_the_encodings_of_spreadsheet_exports() {
        check("\u{feff}Béd,Länge".as_bytes(), "Béd,Länge", None);
        check("Béd,Länge".as_bytes(), "Béd,Länge", None);
        check(&utf16("\u{feff}Bed;½", true), "Bed;½", None);
        check(&utf16("\u{feff}Bed;½", false), "Bed;½", None);
        check(&utf16("Bed;Length", true), "Bed;Length", None);
        check(
            b"Beet,L\xe4nge,Tr\xe4ger\nS\xfcd,2.4 m,Kr\xe4uter f\xfcr die K\xfcche\n",
            "Beet,Länge,Träger\nSüd,2.4 m,Kräuter für die Küche\n",
            Some("windows-1252"),
        );
        check(b"", "", None);
    }
}
