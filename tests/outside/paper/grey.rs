//! Pages as grey pixels, drawn by `pdftoppm`.

use std::fs;
use std::io::BufReader;
use std::path::Path;

use super::super::says;
use super::super::support::temporary;

/// Grey pixels, row by row from the head; 255 is paper.
#[derive(Clone)]
pub struct Grey {
    pub wide: usize,
    pub high: usize,
    pub(super) pixels: Vec<u8>,
}

/// Every page of a file, at so many pixels an inch.
pub fn pages(file: &Path, dpi: f64) -> Vec<Grey> {
    let folder = temporary();
    let dpi = dpi.to_string();
    let files = [file.to_path_buf(), folder.path().join("page")];
    says("pdftoppm", &["-r", &dpi, "-gray", "-png"], &files).expect("it draws");
    let entries = fs::read_dir(folder.path()).expect("a folder of pages");
    let mut drawn: Vec<_> = entries.map(|entry| entry.expect("a page").path()).collect();
    drawn.sort();
    assert!(!drawn.is_empty(), "{}", file.display());
    drawn.iter().map(|page| Grey::read(page)).collect()
}

impl Grey {
    fn read(file: &Path) -> Grey {
        let file = BufReader::new(fs::File::open(file).expect("a page"));
        let mut reader = png::Decoder::new(file).read_info().expect("a PNG file");
        let mut pixels = vec![0; reader.output_buffer_size().expect("a size")];
        let info = reader.next_frame(&mut pixels).expect("pixels");
        assert_eq!(info.bit_depth, png::BitDepth::Eight);
        // Grey is written as red, green and blue by some versions.
        let grey = pixels.into_iter().step_by(info.color_type.samples());
        Grey::new(info.width as usize, info.height as usize, grey.collect())
    }

    pub(super) fn new(wide: usize, high: usize, pixels: Vec<u8>) -> Grey {
        assert_eq!(pixels.len(), wide * high);
        Grey { wide, high, pixels }
    }

    pub fn at(&self, x: usize, y: usize) -> u8 {
        self.pixels[y * self.wide + x]
    }

    pub(super) fn made(wide: usize, high: usize, pixel: impl Fn(usize, usize) -> u8) -> Grey {
        let rows = (0..high).flat_map(|y| (0..wide).map(move |x| (x, y)));
        Grey::new(wide, high, rows.map(|(x, y)| pixel(x, y)).collect())
    }

    /// What is seen when the sheet is turned sideways, heads up, as if the paper were clear.
    pub fn turned_sideways(&self) -> Grey {
        Grey::made(self.wide, self.high, |x, y| self.at(self.wide - 1 - x, y))
    }

    /// The picture turned over the head.
    pub fn turned_over_head(&self) -> Grey {
        Grey::made(self.wide, self.high, |x, y| self.at(x, self.high - 1 - y))
    }

    pub fn turned(&self, sideways: bool) -> Grey {
        match sideways {
            true => self.turned_sideways(),
            false => self.turned_over_head(),
        }
    }
}
