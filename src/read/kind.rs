//! What kind of file the bytes of a job are, whatever the file is called.

use std::io::Cursor;

use zip::ZipArchive;

/// What the first bytes of a file say that it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A package of XML parts.
    Xlsx,
    /// A package of binary parts.
    Xlsb,
    /// An OpenDocument spreadsheet.
    Ods,
    /// The binary format of 1997, or an encrypted package.
    Compound,
    /// A web page or bare XML, which some programs save under the name of a workbook.
    Markup,
    /// Text, as far as can be told.
    Text,
    /// Neither.
    Other,
}

/// What kind of file the bytes are, whatever the file is called.
pub(super) fn kind(bytes: &[u8]) -> Kind {
    let start = bytes.get(..bytes.len().min(512)).unwrap_or_default();
    if start.starts_with(b"PK\x03\x04") {
        return kind_of_package(bytes);
    }
    if start.starts_with(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1") {
        return Kind::Compound;
    }
    let text = super::decode::decode(start).text;
    let trimmed = text.trim_start();
    if trimmed.starts_with('<') {
        Kind::Markup
    } else if text.contains('\0') || start.starts_with(b"%PDF") {
        Kind::Other
    } else {
        Kind::Text
    }
}

fn kind_of_package(bytes: &[u8]) -> Kind {
    let Ok(package) = ZipArchive::new(Cursor::new(bytes)) else {
        return Kind::Xlsx;
    };
    let holds = |name: &[u8]| package.file_names_raw().any(|n| n == name);
    if holds(b"xl/workbook.bin") {
        Kind::Xlsb
    } else if holds(b"content.xml") {
        Kind::Ods
    } else {
        Kind::Xlsx
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_known_by_their_first_bytes() {
        assert_eq!(kind(b"Bed,Length\n"), Kind::Text);
        assert_eq!(kind(b"  <html><table>"), Kind::Markup);
        assert_eq!(
            kind(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1rest"),
            Kind::Compound
        );
        assert_eq!(kind(b"PK\x03\x04cut short"), Kind::Xlsx);
        assert_eq!(kind(b"\x09\x08\x00\x00\x01\x02\x00\x00"), Kind::Other);
        assert_eq!(kind(b"B\0e\0d\0;\0L\0e\0n\0"), Kind::Text);
    }
}
