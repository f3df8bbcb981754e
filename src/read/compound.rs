//! Compound files, in which workbooks of 1997 lie: looked through before the library reads them, since
//! it follows a chain of sectors that runs in a circle for ever, and lays sheets out dense.
//!
//! Streams are chains of sectors that a table links, as in an old disk; small ones lie in sectors of
//! 64 bytes within a stream of their own (MS-CFB). What this file cannot follow, the library cannot
//! either, and says so.

/// Bytes before the first sector, where version 3 ends its header.
const HEADER: usize = 512;
/// Smaller streams lie in small sectors.
const SMALL_STREAM: usize = 4096;
const SMALL_SECTOR: usize = 64;
/// An entry of the directory.
const ENTRY: usize = 128;
/// Sector numbers from here on are marks.
const MARKS: u32 = 0xFFFF_FFFA;

/// Why a compound file must not be read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Circular {
    /// A chain of sectors comes back to itself.
    Chain,
}

/// A stream by its entry.
#[derive(Clone, Debug)]
struct Entry {
    name: String,
    start: u32,
    length: usize,
}

/// The parts of a compound file that lead to its streams.
pub(super) struct Compound<'a> {
    bytes: &'a [u8],
    sector: usize,
    links: Vec<u32>,
    small_links: Vec<u32>,
    small: Vec<u8>,
    entries: Vec<Entry>,
}

impl<'a> Compound<'a> {
    /// Looks a file through; `None` when it is no compound file that can be followed.
    ///
    /// # Errors
    /// [`Circular`] when a chain never ends.
    pub(super) fn open(bytes: &'a [u8]) -> Result<Option<Self>, Circular> {
        let Some(mut file) = Self::with_links(bytes) else {
            return Ok(None);
        };
        let number = |at| four(bytes, at).unwrap_or(MARKS);
        let mut ended = vec![false; file.links.len()];
        file.check_end(number(48), &mut ended)?;
        file.check_end(number(60), &mut ended)?;
        let directory = file.chain(number(48), usize::MAX);
        file.entries = directory.chunks_exact(ENTRY).filter_map(entry).collect();
        for start in file.entries.iter().map(|e| e.start) {
            file.check_end(start, &mut ended)?;
        }
        if let Some(root) = file.entries.first() {
            file.small = file.chain(root.start, root.length);
            let links = file.chain(number(60), usize::MAX);
            file.small_links = numbers(&links).collect();
        }
        Ok(Some(file))
    }

    fn with_links(bytes: &'a [u8]) -> Option<Self> {
        let sector = match two(bytes, 30)? {
            9 => 512,
            12 => 4096,
            _ => return None,
        };
        let mut file = Self {
            bytes,
            sector,
            links: Vec::new(),
            small_links: Vec::new(),
            small: Vec::new(),
            entries: Vec::new(),
        };
        let mut tables: Vec<u32> = numbers(bytes.get(76..HEADER)?).collect();
        let mut more = four(bytes, 68)?;
        for _ in 0..=bytes.len() / sector {
            if more >= MARKS {
                break;
            }
            tables.extend(numbers(file.sector_at(more)?));
            more = tables.pop()?;
        }
        for table in tables.into_iter().filter(|t| *t < MARKS) {
            let links: Vec<u32> = numbers(file.sector_at(table)?).collect();
            file.links.extend(links);
        }
        Some(file)
    }

    fn sector_at(&self, number: u32) -> Option<&'a [u8]> {
        let place = usize::try_from(number).ok()?.checked_add(1)?;
        let start = place.checked_mul(self.sector)?;
        // The last sector of a file may be cut short.
        let end = start.checked_add(self.sector)?.min(self.bytes.len());
        self.bytes.get(start..end)
    }

    fn next(&self, number: u32) -> Option<u32> {
        self.links.get(usize::try_from(number).ok()?).copied()
    }

    /// Whether the chain from a sector ends; `ended` are the sectors known to lead to an end.
    fn check_end(&self, start: u32, ended: &mut [bool]) -> Result<(), Circular> {
        let mut walked = Vec::new();
        let mut at = start;
        while let Some(next) = self.next(at) {
            let place = usize::try_from(at).unwrap_or(usize::MAX);
            if ended.get(place) == Some(&true) {
                break;
            }
            walked.push(place);
            if walked.len() > self.links.len() {
                return Err(Circular::Chain);
            }
            at = next;
        }
        for place in walked {
            if let Some(known) = ended.get_mut(place) {
                *known = true;
            }
        }
        Ok(())
    }

    /// The bytes of a chain that is known to end, up to `most`.
    fn chain(&self, start: u32, most: usize) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut at = start;
        while let Some(sector) = self.sector_at(at).filter(|_| bytes.len() < most) {
            bytes.extend_from_slice(sector);
            match self.next(at) {
                Some(next) => at = next,
                None => break,
            }
        }
        bytes.truncate(most);
        bytes
    }

    fn small_chain(&self, start: u32, most: usize) -> Vec<u8> {
        let mut bytes = Vec::new();
        let mut at = usize::try_from(start).unwrap_or(usize::MAX);
        while bytes.len() < most {
            let begin = at.saturating_mul(SMALL_SECTOR);
            let Some(sector) = self.small.get(begin..begin.saturating_add(SMALL_SECTOR)) else {
                break;
            };
            bytes.extend_from_slice(sector);
            let next = self.small_links.get(at).copied().unwrap_or(MARKS);
            at = usize::try_from(next).unwrap_or(usize::MAX);
        }
        bytes.truncate(most);
        bytes
    }

    /// The bytes of the stream called `name`.
    pub(super) fn stream(&self, name: &str) -> Option<Vec<u8>> {
        let mut entries = self.entries.iter();
        let entry = entries.find(|e| e.name.eq_ignore_ascii_case(name))?;
        Some(if entry.length < SMALL_STREAM {
            self.small_chain(entry.start, entry.length)
        } else {
            self.chain(entry.start, entry.length)
        })
    }
}

fn entry(bytes: &[u8]) -> Option<Entry> {
    let units = bytes.get(..64)?.chunks_exact(2);
    let units = units.filter_map(|pair| two(pair, 0));
    let name: Vec<u16> = units.take_while(|u| *u != 0).collect();
    Some(Entry {
        name: String::from_utf16_lossy(&name),
        start: four(bytes, 116)?,
        length: usize::try_from(four(bytes, 120)?).ok()?,
    })
}

/// The two bytes at a place, the low one first.
pub(super) fn two(bytes: &[u8], at: usize) -> Option<u16> {
    let pair = bytes.get(at..at.checked_add(2)?)?;
    pair.try_into().ok().map(u16::from_le_bytes)
}

/// The four bytes at a place, the lowest first.
pub(super) fn four(bytes: &[u8], at: usize) -> Option<u32> {
    let four = bytes.get(at..at.checked_add(4)?)?;
    four.try_into().ok().map(u32::from_le_bytes)
}

fn numbers(bytes: &[u8]) -> impl Iterator<Item = u32> {
    bytes
        .chunks_exact(4)
        .filter_map(|four_bytes| four(four_bytes, 0))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A file of three sectors: links, directory, and what the links say of the directory's sector.
    fn file(directory_link: u32) -> Vec<u8> {
        let mut bytes = vec![0_u8; HEADER + 2 * 512];
        let mut put = |at: usize, number: u32| {
            bytes[at..at + 4].copy_from_slice(&number.to_le_bytes());
        };
        put(30, 9);
        put(48, 1);
        put(60, u32::MAX - 1);
        put(68, u32::MAX - 1);
        // The table of links lies in sector 0 and nowhere else.
        put(76, 0);
        (1..109).for_each(|n| put(76 + 4 * n, u32::MAX));
        put(512, u32::MAX - 2);
        put(516, directory_link);
        (2..128).for_each(|n| put(512 + 4 * n, u32::MAX));
        bytes
    }

    #[test]
    fn a_chain_that_ends_is_followed_and_one_in_a_circle_is_refused() {
        let bytes = file(u32::MAX - 1);
        let found = Compound::open(&bytes).unwrap().unwrap();
        assert_eq!(found.entries.len(), 4);
        assert_eq!(found.stream("Workbook"), None);
        assert_eq!(Compound::open(&file(1)).err(), Some(Circular::Chain));
    }

    #[test]
    fn what_is_no_compound_file_is_left_alone() {
        assert!(Compound::open(b"too short").unwrap().is_none());
        assert!(Compound::open(&[0; 600]).unwrap().is_none());
    }
}
