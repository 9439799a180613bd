//! One face of a collection as a font file by itself.

use ttf_parser::{RawFace, Tag};

/// The first bytes of a collection (OpenType, "TTC Header").
const COLLECTION: [u8; 4] = *b"ttcf";

/// A face of a font file as a file by itself (OpenType, "Table Directory"): the file as it is unless it is a collection.
/// Nothing where it has no such face.
pub(in crate::typeface) fn alone(file: Vec<u8>, index: u32) -> Option<Vec<u8>> {
    if !file.starts_with(&COLLECTION) {
        return Some(file);
    }
    let face = RawFace::parse(&file, index).ok()?;
    let mut tables = Vec::new();
    for record in face.table_records {
        tables.push((record.tag, face.table(record.tag)?));
    }
    tables.sort_by_key(|(tag, _)| *tag);
    let count = u16::try_from(tables.len())
        .ok()
        .filter(|count| *count < 4096)?;
    let of_curves = tables
        .iter()
        .any(|(tag, _)| *tag == Tag::from_bytes(b"CFF "));
    let version: [u8; 4] = match of_curves {
        true => *b"OTTO",
        false => [0, 1, 0, 0],
    };
    let log = count.checked_ilog2()? as u16;
    let range = 16 * (1 << log);
    let mut out = version.to_vec();
    for number in [count, range, log, 16 * count - range] {
        out.extend(number.to_be_bytes());
    }
    let mut offset = out.len() + 16 * tables.len();
    for (tag, table) in &tables {
        let length = u32::try_from(table.len()).ok()?;
        let place = u32::try_from(offset).ok()?;
        for number in [tag.0, checksum(table), place, length] {
            out.extend(number.to_be_bytes());
        }
        offset += table.len().next_multiple_of(4);
    }
    for (_, table) in &tables {
        out.extend(*table);
        out.resize(out.len().next_multiple_of(4), 0);
    }
    Some(out)
}

/// The sum of a table's 32-bit words (OpenType, "Calculating Checksums").
fn checksum(table: &[u8]) -> u32 {
    let words = table.chunks(4).map(|word| {
        let mut whole = [0; 4];
        whole[..word.len()].copy_from_slice(word);
        u32::from_be_bytes(whole)
    });
    words.fold(0, u32::wrapping_add)
}
