//! Colour profiles (ICC.1:2004-10, which is ISO 15076-1): those of pictures, and that of a press.

use std::fmt;
use std::io::Read;

use crate::assets::{Assets, unreadable};
use crate::names::Fault;

/// The largest profile that is read: those of presses have about a megabyte.
const LARGEST: u64 = 50_000_000;

/// A colour profile, as a file holds it.
#[derive(Clone, PartialEq, Eq)]
pub struct Profile {
    bytes: Vec<u8>,
    class: [u8; 4],
    space: [u8; 4],
}

/// Colours of how many channels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ProfileSpace {
    /// One channel.
    Grey,
    /// Red, green and blue.
    Rgb,
    /// Cyan, magenta, yellow and black.
    Cmyk,
}

impl ProfileSpace {
    /// How many channels.
    pub fn channels(self) -> u8 {
        match self {
            ProfileSpace::Grey => 1,
            ProfileSpace::Rgb => 3,
            ProfileSpace::Cmyk => 4,
        }
    }
}

impl Profile {
    /// Reads the profile of a press from an ICC file, for an output intent.
    ///
    /// # Errors
    /// A [`Fault`] of the word `missing`, `is-folder`, `not-a-file`, `no-permission` or `cannot-read`; `not-icc`;
    /// `damaged` where it is shorter than it says, or its table leads out of it; `wrong-profile` where it is no
    /// profile of a printer (class `prtr`), or of none of the colours that a PDF takes.
    pub fn read(assets: &Assets, name: &str) -> Result<Profile, Fault> {
        let file = assets.open(name, "an ICC profile")?;
        let mut bytes = Vec::new();
        let read = file.take(LARGEST + 1).read_to_end(&mut bytes);
        read.map_err(|error| unreadable(name, &error))?;
        if bytes.get(36..40) != Some(b"acsp") {
            let what = format!("`{name}` is no ICC profile");
            return Err(Fault::new("not-icc", what)
                .allowed("an ICC profile (`.icc` or `.icm`) of the press")
                .help("ask the printer for the profile of the press and paper"));
        }
        let profile = Profile::of(bytes).ok_or_else(|| {
            let what = format!("`{name}` is damaged: it is not as long as it says, or not whole");
            Fault::new("damaged", what).help("copy it anew, or ask the printer for it again")
        })?;
        let what = if &profile.class != b"prtr" {
            let class = match &profile.class {
                b"scnr" => "a scanner or camera",
                b"mntr" => "a screen",
                b"link" => "a step between two devices",
                b"spac" => "a space of colours",
                b"abst" => "an effect",
                b"nmcl" => "named colours",
                _ => "something else",
            };
            format!("`{name}` is a profile of {class}, not of a press")
        } else if profile.space().is_none() {
            let space = String::from_utf8_lossy(&profile.space).into_owned();
            format!(
                "`{name}` is a profile for {} colours, which no PDF takes",
                space.trim()
            )
        } else {
            return Ok(profile);
        };
        Err(Fault::new("wrong-profile", what)
            .allowed("a profile of a printer, for grey, RGB or CMYK")
            .help("ask the printer for the profile of the press and paper"))
    }

    /// A sound profile: signed, as long as it says, with a table that stays within it. What follows it is left out.
    pub(super) fn of(mut bytes: Vec<u8>) -> Option<Profile> {
        let four = |at: usize| Some(*bytes.get(at..)?.first_chunk::<4>()?);
        let long = |at: usize| four(at).map(|bytes| u32::from_be_bytes(bytes) as usize);
        if four(36)? != *b"acsp" {
            return None;
        }
        // Versions 2 and 4; a PDF knows no later one.
        if !(2..=4).contains(bytes.get(8)?) {
            return None;
        }
        let size = long(0)?;
        if size < 132 || size > bytes.len() {
            return None;
        }
        let tags = long(128)?;
        if tags == 0 || tags > (size - 132) / 12 {
            return None;
        }
        for tag in 0..tags {
            let (from, length) = (long(132 + 12 * tag + 4)?, long(132 + 12 * tag + 8)?);
            if from.checked_add(length)? > size {
                return None;
            }
        }
        let (class, space) = (four(12)?, four(16)?);
        bytes.truncate(size);
        Some(Profile {
            bytes,
            class,
            space,
        })
    }

    /// Whether pictures may carry it: that of a scanner, a screen, a printer, or a space of colours (PDF 1.7,
    /// 8.6.5.5).
    pub(super) fn is_for_pictures(&self) -> bool {
        [b"scnr", b"mntr", b"prtr", b"spac"].contains(&&self.class)
    }

    /// Its colours; nothing for those that no PDF takes.
    pub fn space(&self) -> Option<ProfileSpace> {
        match &self.space {
            b"GRAY" => Some(ProfileSpace::Grey),
            b"RGB " => Some(ProfileSpace::Rgb),
            b"CMYK" => Some(ProfileSpace::Cmyk),
            _ => None,
        }
    }

    /// The whole file.
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// What it calls itself, if that can be read (its tag `desc`).
    pub fn description(&self) -> Option<String> {
        let bytes = &self.bytes;
        let long = |at: usize| {
            let bytes = bytes.get(at..)?.first_chunk::<4>()?;
            Some(u32::from_be_bytes(*bytes) as usize)
        };
        let tags = 0..long(128)?;
        let at = tags
            .map(|tag| 132 + 12 * tag)
            .find(|&at| bytes.get(at..at + 4) == Some(b"desc"))?;
        let tag = bytes.get(long(at + 4)?..)?.get(..long(at + 8)?)?;
        let long = |at: usize| {
            let bytes = tag.get(at..)?.first_chunk::<4>()?;
            Some(u32::from_be_bytes(*bytes) as usize)
        };
        let text = match tag.get(..4)? {
            // ASCII, its length first (ICC.1:2001-04, 6.5.17).
            b"desc" => {
                let text = tag.get(12..)?.get(..long(8)?)?;
                String::from_utf8_lossy(text).into_owned()
            }
            // UTF-16 in several languages (ICC.1:2004-10, 10.13); the first.
            b"mluc" => {
                let text = tag.get(long(24)?..)?.get(..long(20)?)?;
                let units = text
                    .chunks_exact(2)
                    .map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
                String::from_utf16_lossy(&units.collect::<Vec<_>>())
            }
            _ => return None,
        };
        let text = text.trim_end_matches('\0').trim();
        let plain = !text.is_empty() && !text.chars().any(char::is_control);
        plain.then(|| text.to_string())
    }
}

impl fmt::Debug for Profile {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let space = String::from_utf8_lossy(&self.space);
        write!(f, "Profile({space}, {} bytes)", self.bytes.len())
    }
}
