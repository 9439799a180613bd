//! The two spaces that points live in: a panel, and a PDF page.

use super::length::Length;

/// A point on a panel: from the trimmed top-left corner, `y` down.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct PanelPoint {
    /// To the right.
    pub x: Length,
    /// Downwards.
    pub y: Length,
}

/// A point in PDF user space: points (1/72 inch) from the bottom-left of the MediaBox, `y` up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PdfPoint {
    /// To the right, in points.
    pub x: f32,
    /// Upwards, in points.
    pub y: f32,
}

/// Where a panel lies on a PDF page: the only crossing from panel space to PDF space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageSpace {
    /// How far the panel's top-left corner lies from the page's left edge.
    left: Length,
    /// How far it lies above the page's foot.
    top: Length,
    /// How large one length of the panel is on the page, as a fraction.
    scale: (i64, i64),
}

impl PageSpace {
    /// A panel at full size on a page that shows it with `bleed` all round.
    pub fn with_bleed(panel_height: Length, bleed: Length) -> PageSpace {
        PageSpace {
            left: bleed,
            top: bleed + panel_height,
            scale: (1, 1),
        }
    }

    /// A panel whose top-left corner lies at (`left`, `top`) from the page's bottom-left corner,
    /// drawn at `numerator` ÷ `denominator` of its size.
    pub const fn placed(left: Length, top: Length, scale: (i64, i64)) -> PageSpace {
        PageSpace { left, top, scale }
    }

    /// A point of the panel as a point of the page: the y axis is turned over, and lengths are measured in points.
    pub fn point(&self, p: PanelPoint) -> PdfPoint {
        let (n, d) = self.scale;
        PdfPoint {
            x: (self.left + p.x.scaled(n, d)).as_pt() as f32,
            y: (self.top - p.y.scaled(n, d)).as_pt() as f32,
        }
    }

    /// A length of the panel in points of the page.
    pub fn length(&self, length: Length) -> f32 {
        length.scaled(self.scale.0, self.scale.1).as_pt() as f32
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::names::decimals;

    #[test]
    fn the_y_axis_turns_once() {
        let space = PageSpace::with_bleed(Length::mm(148), Length::mm(3));
        let top_left = space.point(PanelPoint::default());
        assert_eq!(decimals(f64::from(top_left.x), 3), "8.504");
        let bottom = space.point(PanelPoint {
            x: Length::ZERO,
            y: Length::mm(148),
        });
        assert_eq!(decimals(f64::from(bottom.y), 3), "8.504");
    }
}
