//! What kind of file a picture is, told by its first bytes, and what is refused before its pixels are read.

use crate::names::Fault;

/// The kinds of picture that go into a PDF.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum PictureFormat {
    Jpeg,
    Png,
    Tiff,
}

impl PictureFormat {
    fn word(self) -> &'static str {
        match self {
            PictureFormat::Jpeg => "JPEG",
            PictureFormat::Png => "PNG",
            PictureFormat::Tiff => "TIFF",
        }
    }

    /// What the names of such files end in; the first is the usual one.
    fn endings(self) -> &'static [&'static str] {
        match self {
            PictureFormat::Jpeg => &["jpg", "jpeg", "jpe", "jfif"],
            PictureFormat::Png => &["png"],
            PictureFormat::Tiff => &["tif", "tiff"],
        }
    }
}

/// Endings that promise another kind of picture.
const OTHER_ENDINGS: [&str; 14] = [
    "gif", "webp", "bmp", "jp2", "j2k", "jpx", "jxl", "heic", "avif", "psd", "svg", "pdf", "eps",
    "ai",
];

/// What a picture must be.
pub(super) const ALLOWED: &str = "a JPEG, PNG or TIFF picture";

/// At most this much of pixels, unpacked: 200 million pixels of red, green and blue.
const MOST_BYTES: u64 = 600_000_000;

/// The largest file that is read at all.
pub(super) const LARGEST_FILE: u64 = 1_000_000_000;

/// The kind of a picture file; `name` is what the author knows it by.
///
/// # Errors
/// A [`Fault`] of the word `wrong-kind`, naming what else it is, or `wrong-name`.
pub(super) fn of(bytes: &[u8], name: &str) -> Result<PictureFormat, Fault> {
    let kind = if bytes.starts_with(&[0xff, 0xd8, 0xff]) {
        PictureFormat::Jpeg
    } else if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
        PictureFormat::Png
    } else if [&b"II*\0"[..], b"MM\0*", b"II+\0", b"MM\0+"]
        .iter()
        .any(|magic| bytes.starts_with(magic))
    {
        PictureFormat::Tiff
    } else {
        return Err(other(bytes, name));
    };
    check_name(kind, name)?;
    Ok(kind)
}

/// Tells a name that promises another kind.
fn check_name(kind: PictureFormat, name: &str) -> Result<(), Fault> {
    let file = name.rsplit(['/', '\\']).next().unwrap_or(name);
    let Some((stem, ending)) = file.rsplit_once('.') else {
        return Ok(());
    };
    let ending = ending.to_ascii_lowercase();
    let of_kind = |kind: PictureFormat| kind.endings().contains(&ending.as_str());
    let known = [PictureFormat::Jpeg, PictureFormat::Png, PictureFormat::Tiff]
        .into_iter()
        .any(of_kind)
        || OTHER_ENDINGS.contains(&ending.as_str());
    if of_kind(kind) || !known {
        return Ok(());
    }
    let word = kind.word();
    let what = format!("`{name}` is a {word} picture under the name of another kind");
    let right = kind.endings()[0];
    let help = format!("rename it to `{stem}.{right}`, here and where the plan names it");
    Err(Fault::new("wrong-name", what).help(help))
}

/// The fault of a file that is none of the three.
fn other(bytes: &[u8], name: &str) -> Fault {
    if bytes.is_empty() {
        let what = format!("`{name}` is empty");
        return Fault::new("damaged", what)
            .allowed(ALLOWED)
            .help("save the picture anew from the program it was made in");
    }
    let begins = |magic: &[u8]| bytes.starts_with(magic);
    let boxed = |brands: &[&[u8]]| {
        bytes.get(4..8) == Some(b"ftyp")
            && brands.iter().any(|brand| bytes.get(8..12) == Some(*brand))
    };
    let text = String::from_utf8_lossy(&bytes[..bytes.len().min(300)]);
    let what = if begins(b"GIF8") {
        Some("a GIF picture")
    } else if begins(b"RIFF") && bytes.get(8..12) == Some(b"WEBP") {
        Some("a WebP picture")
    } else if begins(b"\0\0\0\x0cjP  ") || begins(&[0xff, 0x4f, 0xff, 0x51]) {
        Some("a JPEG 2000 picture")
    } else if begins(b"\0\0\0\x0cJXL ") || begins(&[0xff, 0x0a]) {
        Some("a JPEG XL picture")
    } else if boxed(&[b"avif", b"avis"]) {
        Some("an AVIF picture")
    } else if boxed(&[b"heic", b"heix", b"hevc", b"mif1", b"msf1"]) {
        Some("a HEIF picture")
    } else if begins(b"BM") && bytes.len() > 26 {
        Some("a BMP picture")
    } else if begins(b"8BPS") {
        Some("a layered file of a paint program")
    } else if begins(b"%PDF") {
        Some("a PDF file")
    } else if begins(b"%!") {
        Some("a PostScript file")
    } else if text.contains("<svg") {
        Some("an SVG drawing")
    } else {
        None
    };
    match what {
        Some(what) => unsupported(name, what),
        None => Fault::new("wrong-kind", format!("`{name}` is no picture of a known kind"))
            .allowed(ALLOWED)
            .help("save it as JPEG, PNG or TIFF from the program it was made in; a new name is not enough"),
    }
}

/// The fault of a picture that is something no PDF takes as it is: `what` it is.
pub(super) fn unsupported(name: &str, what: &str) -> Fault {
    Fault::new("wrong-kind", format!("`{name}` is {what}"))
        .allowed(ALLOWED)
        .help("save it as PNG, or as TIFF with 8 bits to a channel, without layers")
}

/// Tells a picture whose header alone says that it is too large.
///
/// # Errors
/// A [`Fault`] of the word `too-large`.
pub(super) fn check_size(
    name: &str,
    (width, height): (u32, u32),
    channels: usize,
    bits: u8,
) -> Result<(), Fault> {
    let row = (u64::from(width) * channels as u64 * u64::from(bits)).div_ceil(8);
    let bytes = row.saturating_mul(u64::from(height));
    if bytes <= MOST_BYTES {
        return Ok(());
    }
    let channels = match channels {
        1 => "1 channel".to_string(),
        channels => format!("{channels} channels"),
    };
    let what = format!(
        "`{name}` has {width} × {height} pixels of {channels} and {bits} bits, which is {} million bytes",
        bytes.div_ceil(1_000_000)
    );
    let allowed = format!("at most {} million bytes of pixels", MOST_BYTES / 1_000_000);
    let fault = Fault::new("too-large", what).allowed(allowed);
    Err(fault.help("no press shows more than 400 pixels to the inch, 1200 of black alone"))
}

/// The fault of a picture that breaks off or makes no sense.
pub(super) fn damaged(name: &str) -> Fault {
    let what = format!("`{name}` is damaged: its pixels cannot be read to the end");
    Fault::new("damaged", what)
        .help("copy it anew, or save it anew from the program it was made in")
}
