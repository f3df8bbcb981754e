//! A PDF with its small objects packed together, as PDF 1.5 allows: tags take most of the space otherwise.

use std::io::Write as _;

use flate2::Compression;
use flate2::write::ZlibEncoder;

/// Small objects that are packed together: many at once pack better, and readers unpack them at once.
const OBJECTS: usize = 1_000;

/// The same document, smaller; as it was where that cannot be done.
pub(super) fn packed(bytes: Vec<u8>) -> Vec<u8> {
    let small = with_streams(&bytes);
    let small = small.map(|small| with_packed_places(&small).unwrap_or(small));
    small.filter(|s| s.len() < bytes.len()).unwrap_or(bytes)
}

/// Objects packed into streams.
fn with_streams(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut document = lopdf::Document::load_mem(bytes).ok()?;
    for object in document.objects.values_mut() {
        if let Ok(stream) = object.as_stream_mut() {
            tighten(stream);
        }
    }
    let mut small = Vec::new();
    let options = lopdf::SaveOptions::builder()
        .use_object_streams(true)
        .use_xref_streams(true)
        .max_objects_per_stream(OBJECTS)
        .compression_level(9)
        .build();
    document.save_with_options(&mut small, options).ok()?;
    Some(small)
}

/// Packs a stream anew, as tight as can be, when that is all its packing.
fn tighten(stream: &mut lopdf::Stream) {
    let is_plain = !stream.dict.has(b"DecodeParms");
    let is_packed = matches!(stream.filters().as_deref(), Ok([b"FlateDecode"]));
    if !is_plain || !is_packed {
        return;
    }
    let Some(packed) = stream
        .decompressed_content()
        .ok()
        .and_then(|all| deflated(&all))
    else {
        return;
    };
    if packed.len() < stream.content.len() {
        stream.set_content(packed);
    }
}

fn deflated(bytes: &[u8]) -> Option<Vec<u8>> {
    let mut packed = ZlibEncoder::new(Vec::new(), Compression::best());
    packed.write_all(bytes).ok()?;
    packed.finish().ok()
}

/// The table of places, which is the last object and stands uncompressed otherwise, at seven bytes an object.
///
/// Nothing before it moves, so its own entry and `startxref` stay true.
fn with_packed_places(bytes: &[u8]) -> Option<Vec<u8>> {
    const STREAM: &[u8] = b">>stream\n";
    const LENGTH: &[u8] = b"/Length ";
    const END: &[u8] = b"startxref\n";
    let end = last(bytes, END)?;
    let place = bytes.get(end.checked_add(END.len())?..)?;
    let place = std::str::from_utf8(place).ok()?.lines().next()?;
    let start: usize = place.trim().parse().ok()?;
    let object = bytes.get(start..end)?;
    let data = first(object, STREAM)?.checked_add(STREAM.len())?;
    let head = object.get(..data.checked_sub(STREAM.len())?)?;
    let length = last(head, LENGTH)?;
    let size = std::str::from_utf8(head.get(length.checked_add(LENGTH.len())?..)?).ok()?;
    let size: usize = size.trim().parse().ok()?;
    let table = object.get(data..data.checked_add(size)?)?;
    let packed = deflated(table)?;
    let mut out = bytes.get(..start)?.to_vec();
    out.extend_from_slice(head.get(..length)?);
    out.extend_from_slice(format!("/Filter/FlateDecode/Length {}", packed.len()).as_bytes());
    out.extend_from_slice(STREAM);
    out.extend_from_slice(&packed);
    out.extend_from_slice(b"\nendstream\nendobj\n");
    out.extend_from_slice(bytes.get(end..)?);
    Some(out)
}

fn first(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).position(|part| part == wanted)
}

fn last(bytes: &[u8], wanted: &[u8]) -> Option<usize> {
    bytes.windows(wanted.len()).rposition(|part| part == wanted)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_pdf_stays_as_it_is() {
        assert_eq!(
            packed(b"%PDF-1.7 not whole".to_vec()),
            b"%PDF-1.7 not whole"
        );
        assert_eq!(with_packed_places(b"startxref\n99999\n%%EOF"), None);
        assert_eq!(with_packed_places(b""), None);
    }

    #[test]
    fn packing_keeps_every_object() {
        let mut plain = lopdf::Document::with_version("1.7");
        let pages = plain.new_object_id();
        let kids: Vec<lopdf::Object> = (0..400)
            .map(|n| {
                plain
                    .add_object(lopdf::dictionary! { "N" => n, "Parent" => pages })
                    .into()
            })
            .collect();
        let root = lopdf::dictionary! { "Type" => "Pages", "Kids" => kids, "Count" => 0 };
        plain.objects.insert(pages, root.into());
        let catalog =
            plain.add_object(lopdf::dictionary! { "Type" => "Catalog", "Pages" => pages });
        plain.trailer.set("Root", catalog);
        let mut bytes = Vec::new();
        plain.save_to(&mut bytes).unwrap();
        let small = packed(bytes.clone());
        assert!(
            small.len() * 2 < bytes.len(),
            "{} of {}",
            small.len(),
            bytes.len()
        );
        let again = lopdf::Document::load_mem(&small).unwrap();
        let numbers = again
            .objects
            .values()
            .filter_map(|o| o.as_dict().ok()?.get(b"N").ok());
        assert_eq!(numbers.count(), 400);
    }
}
