//! Telling whether a picture's edges are a ground: how far it is inked to the very edge, and in what colour.

use super::Edge;

/// How deep the bands along an edge reach, in pixels; each begins where the one before ends. The last one reaches 1.5 mm
/// at 4300 pixels to the inch.
const REACH: [u32; 16] = [1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128, 192, 256];

/// How many stretches an edge is cut into.
const STRETCHES: usize = 64;

/// How much darker than paper white a stretch is that counts as ground, of 255: 8 %, more than scanned paper has.
const GROUND: u32 = 20;

/// The ground along an edge of a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Ground {
    /// How much of the edge's length is darker than paper, in thousandths.
    pub covered_per_mille: u16,
    /// The mean colour of what is darker: red, green and blue of 255; paper white where nothing is.
    pub mean: [u8; 3],
}

impl Ground {
    /// Whether most of the edge is covered.
    pub fn is_ground(self) -> bool {
        self.covered_per_mille >= 600
    }
}

#[derive(Clone, Copy, Default)]
struct ColourSum {
    light: [u64; 3],
    pixels: u64,
}

/// The colours along the four edges of the stored pixels, gathered row by row.
#[derive(Clone)]
pub(super) struct EdgeColours {
    width: u32,
    height: u32,
    /// For each edge its bands, each cut into stretches.
    sums: Vec<ColourSum>,
}

impl EdgeColours {
    pub(super) fn new(width: u32, height: u32) -> EdgeColours {
        let sums = vec![ColourSum::default(); 4 * REACH.len() * STRETCHES];
        EdgeColours {
            width,
            height,
            sums,
        }
    }

    /// Looks at a row of pixels; `colour` tells the red, green and blue of a pixel as it looks on white paper.
    pub(super) fn row(&mut self, y: u32, colour: impl Fn(usize) -> [u8; 3]) {
        let below = self.height - 1 - y;
        if y.min(below) < REACH[REACH.len() - 1] {
            for x in 0..self.width {
                let light = colour(x as usize);
                self.add(Edge::Top, y, x, self.width, light);
                self.add(Edge::Bottom, below, x, self.width, light);
            }
        }
        for depth in 0..self.width.min(REACH[REACH.len() - 1]) {
            let right = self.width - 1 - depth;
            self.add(Edge::Left, depth, y, self.height, colour(depth as usize));
            self.add(Edge::Right, depth, y, self.height, colour(right as usize));
        }
    }

    fn add(&mut self, edge: Edge, depth: u32, along: u32, length: u32, light: [u8; 3]) {
        let band = REACH.partition_point(|&reach| reach <= depth);
        if band == REACH.len() {
            return;
        }
        let stretch = (u64::from(along) * STRETCHES as u64 / u64::from(length)) as usize;
        let sum = &mut self.sums[(edge as usize * REACH.len() + band) * STRETCHES + stretch];
        for (sum, light) in sum.light.iter_mut().zip(light) {
            *sum += u64::from(light);
        }
        sum.pixels += 1;
    }

    /// The ground along an edge of the stored pixels, between two depths in pixels, each rounded down to a band; at least
    /// one band.
    pub(super) fn ground(&self, edge: Edge, (from, to): (u32, u32)) -> Ground {
        let band = |depth| REACH.partition_point(|&reach| reach <= depth);
        let first = band(from).min(REACH.len() - 1);
        let bands = first..band(to).max(first + 1);
        let (mut stretches, mut covered) = (0, 0);
        let mut mean = [0; 3];
        for stretch in 0..STRETCHES {
            let mut sum = ColourSum::default();
            for band in bands.clone() {
                let part = self.sums[(edge as usize * REACH.len() + band) * STRETCHES + stretch];
                for (sum, light) in sum.light.iter_mut().zip(part.light) {
                    *sum += light;
                }
                sum.pixels += part.pixels;
            }
            if sum.pixels == 0 {
                continue;
            }
            stretches += 1;
            let [red, green, blue] = sum.light.map(|light| (light / sum.pixels) as u32);
            if luma([red, green, blue]) + GROUND <= 255 {
                covered += 1;
                mean = [mean[0] + red, mean[1] + green, mean[2] + blue];
            }
        }
        Ground {
            covered_per_mille: (covered * 1000 / stretches.max(1)) as u16,
            mean: match covered {
                0 => [255; 3],
                _ => mean.map(|light| (light / covered) as u8),
            },
        }
    }
}

/// How light a colour is (ITU-R BT.601).
fn luma([red, green, blue]: [u32; 3]) -> u32 {
    (red * 299 + green * 587 + blue * 114) / 1000
}
