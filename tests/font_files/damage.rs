//! Damage to font files, the same at every run.

/// A table of a font file (OpenType 1.9, "Organization of an OpenType Font": the directory begins at byte
/// 12, 16 bytes an entry).
pub struct Table {
    pub tag: [u8; 4],
    pub from: usize,
    pub to: usize,
}

pub fn tables(font: &[u8]) -> Vec<Table> {
    let number = |at: usize| u32::from_be_bytes(font[at..at + 4].try_into().unwrap()) as usize;
    let count = usize::from(u16::from_be_bytes([font[4], font[5]]));
    let entries = (0..count).map(|entry| 12 + 16 * entry);
    entries
        .map(|at| Table {
            tag: font[at..at + 4].try_into().unwrap(),
            from: number(at + 8),
            to: number(at + 8) + number(at + 12),
        })
        .collect()
}

/// Numbers that only look random (Marsaglia 2003, "Xorshift RNGs": shifts 13, 7, 17).
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, end: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 16) % end.max(1) as u64) as usize
    }
}

/// A copy of a font with one to eight bytes changed, and which.
pub fn flipped(font: &[u8], dice: &mut Dice) -> (Vec<u8>, Vec<(usize, u8)>) {
    let mut copy = font.to_vec();
    let tables = tables(font);
    let changed: Vec<(usize, u8)> = (0..1 + dice.below(8))
        .map(|_| {
            let at = match dice.below(8) {
                0 => dice.below(12 + 16 * tables.len()),
                1 => dice.below(font.len()),
                // The beginning of a table has its counts and offsets.
                _ => {
                    let table = &tables[dice.below(tables.len())];
                    let length = table.to - table.from;
                    table.from + dice.below(length.min(200))
                }
            };
            let byte = [0, 1, 0x7f, 0x80, 0xff, dice.below(256) as u8][dice.below(6)];
            (at, byte)
        })
        .collect();
    for &(at, byte) in &changed {
        copy[at] = byte;
    }
    (copy, changed)
}
