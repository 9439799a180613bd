//! How far the ink of a glyph reaches from left to right. The box that a font file states may be that of the points which
//! steer its curves, and those may lie outside them.

use super::Outline;

/// From where to where outlines reach, in font units; nothing where there are none.
pub(super) fn of(outlines: &[Outline]) -> Option<(i32, i32)> {
    let mut at = 0.0;
    let mut found: Vec<f64> = Vec::with_capacity(outlines.len());
    for piece in outlines {
        match *piece {
            Outline::Move(x, _) | Outline::Line(x, _) => at = f64::from(x),
            Outline::Curve([x1, _, x2, _, x3, _]) => {
                let points = [at, f64::from(x1), f64::from(x2), f64::from(x3)];
                found.extend(turns(points).map(|t| along(points, t)));
                at = points[3];
            }
            Outline::Close => continue,
        }
        found.push(at);
    }
    let from = found.iter().copied().reduce(f64::min)?;
    let to = found.iter().copied().reduce(f64::max)?;
    Some((from.round() as i32, to.round() as i32))
}

/// Where a cubic Bézier curve of these points is at a moment from 0 to 1.
fn along([x0, x1, x2, x3]: [f64; 4], t: f64) -> f64 {
    let s = 1.0 - t;
    s * s * s * x0 + 3.0 * s * s * t * x1 + 3.0 * s * t * t * x2 + t * t * t * x3
}

/// The moments at which it turns back: where its derivative, a t² + b t + c, is nought.
fn turns([x0, x1, x2, x3]: [f64; 4]) -> impl Iterator<Item = f64> {
    let a = x3 - 3.0 * x2 + 3.0 * x1 - x0;
    let b = 2.0 * (x2 - 2.0 * x1 + x0);
    let c = x1 - x0;
    let root = (b * b - 4.0 * a * c).sqrt();
    // Of a derivative that is a straight line, the one moment; what is no number is not within the curve.
    let moments = match a.abs() < 1e-6 {
        true => [-c / b, f64::NAN],
        false => [(-b - root) / (2.0 * a), (-b + root) / (2.0 * a)],
    };
    moments.into_iter().filter(|t| *t > 0.0 && *t < 1.0)
}
