//! Pictures as other programs see them in our PDFs: the same pixels, the same way up, the same colours.

use std::fs;
use std::path::{Path, PathBuf};

use jpeg_encoder::ColorType;
use versefold::art::Art;
use versefold::assets::Assets;
use versefold::names::Length;
use versefold::outputs::pictures;

use super::files::{SIZE, jpeg, png, slopes, tiff};
use super::lossless::lossless;
use super::says;

/// How wide a pixel is drawn, in points and, at 72 to the inch, in pixels.
const PIXEL: i64 = 10;

/// A fresh folder that stays, to be looked at.
fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"))
        .join("outside-art")
        .join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a folder");
    folder
}

fn read(folder: &Path, name: &str, bytes: &[u8]) -> Art {
    fs::write(folder.join(name), bytes).expect("a file");
    Art::read(&Assets::folder(folder), name).expect(name)
}

/// A PDF of these pictures, one on each page, with pixels of 10 points.
fn pdf_of(folder: &Path, art: &[Art]) -> PathBuf {
    let pages = art.iter().map(|art| {
        let side = |pixels: u32| Length::pt(PIXEL * i64::from(pixels));
        (art, (side(art.width()), side(art.height())), false)
    });
    let bytes = pictures(&pages.collect::<Vec<_>>()).expect("a PDF");
    let path = folder.join("pictures.pdf");
    fs::write(&path, bytes).expect("a file");
    path
}

/// The pages of a PDF as another program draws them at 72 pixels to the inch: for each its width in pixels of the
/// picture, and their colours, read in the middle of each.
fn drawn(pdf: &Path) -> Vec<(usize, Vec<[u8; 3]>)> {
    let to = pdf.with_file_name("page");
    says("pdftoppm", &["-r", "72", "-png"], &[pdf.to_path_buf(), to]).expect("it draws");
    let folder = fs::read_dir(pdf.parent().expect("a folder")).expect("a folder");
    let pages = folder.map(|entry| entry.expect("an entry").path());
    let mut pages: Vec<PathBuf> = pages
        .filter(|path| {
            let name = path
                .file_name()
                .expect("a name")
                .to_string_lossy()
                .into_owned();
            name.starts_with("page-")
        })
        .collect();
    pages.sort();
    let middles = |path: &PathBuf| {
        let file = std::io::BufReader::new(fs::File::open(path).expect("a page"));
        let mut reader = png::Decoder::new(file).read_info().expect("a PNG picture");
        let mut bytes = vec![0; reader.output_buffer_size().expect("a size")];
        let info = reader.next_frame(&mut bytes).expect("pixels");
        let middle = (PIXEL / 2) as usize;
        let rows = bytes
            .chunks_exact(info.line_size)
            .skip(middle)
            .step_by(PIXEL as usize);
        let colours = rows.flat_map(|row| {
            let pixels = row.chunks_exact(3).skip(middle).step_by(PIXEL as usize);
            pixels.map(|pixel| [pixel[0], pixel[1], pixel[2]])
        });
        (info.width as usize / PIXEL as usize, colours.collect())
    };
    pages.iter().map(middles).collect()
}

/// How a sample looks in 8 bits.
fn light(samples: &[u8], at: usize, bits: u8) -> u8 {
    match bits {
        16 => samples[2 * at],
        _ => samples[at],
    }
}

#[test]
#[ignore = "needs poppler's pdftoppm and qpdf"]
fn another_program_draws_the_same_pixels() {
    let folder = folder("lossless");
    let files = lossless();
    let art: Vec<Art> = files
        .iter()
        .map(|file| read(&folder, file.name, &file.bytes))
        .collect();
    let pdf = pdf_of(&folder, &art);
    says("qpdf", &["--check"], std::slice::from_ref(&pdf)).expect("sound syntax");
    let pages = drawn(&pdf);
    assert_eq!(pages.len(), files.len());
    let mut compared = 0;
    for (file, (width, colours)) in files.iter().zip(pages) {
        assert_eq!((width, colours.len()), (21, 21 * 19), "{}", file.name);
        // Of fewer bits, palettes and inks the samples are no colours; the others are.
        if file.bits < 8 || file.channels == 4 {
            continue;
        }
        for (at, drawn) in colours.iter().enumerate() {
            let cover = match file.cover.len() {
                0 => 255,
                57 => 255 * u32::from(at != 45),
                _ => u32::from(light(&file.cover, at, file.bits)),
            };
            for (channel, &drawn) in drawn.iter().enumerate() {
                let channel = channel.min(file.channels - 1);
                let sample = light(&file.samples, at * file.channels + channel, file.bits);
                // Colours that are multiplied already cannot be more than their cover.
                let on_paper = match file.name {
                    "multiplied.tif" => (u32::from(sample) + 255 - cover).min(255),
                    _ => (u32::from(sample) * cover + 255 * (255 - cover)) / 255,
                };
                let off = on_paper.abs_diff(u32::from(drawn));
                assert!(
                    off <= 2,
                    "{} pixel {at}: {drawn}, not {on_paper}",
                    file.name
                );
            }
        }
        compared += 1;
    }
    assert_eq!(compared, 16);
}

/// Ones and noughts, palettes and inks, by what they look like in one place or another.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn few_bits_and_inks_look_as_they_should() {
    let folder = folder("few");
    let files = lossless();
    let of = |name: &str| files.iter().find(|file| file.name == name).expect(name);
    let names = [
        "grey-1.png",
        "white-is-nought.tif",
        "palette.png",
        "palette-alpha.png",
        "inks.tif",
    ];
    let mut art: Vec<Art> = names
        .iter()
        .map(|name| read(&folder, name, &of(name).bytes))
        .collect();
    for (name, colour) in [("a.jpg", ColorType::Cmyk), ("b.jpg", ColorType::CmykAsYcck)] {
        art.push(read(&folder, name, &jpeg(colour, &slopes(4), |_| {})));
    }
    let pages = drawn(&pdf_of(&folder, &art));
    let greys = slopes(1);
    for page in &pages[..2] {
        for (grey, drawn) in greys.iter().zip(&page.1) {
            assert_eq!(*drawn, [if *grey < 128 { 0 } else { 255 }; 3]);
        }
    }
    for (grey, drawn) in greys.iter().zip(&pages[2].1) {
        let at = grey >> 4;
        let meant = [at * 16, 255 - at * 15, 90];
        let off = meant.iter().zip(drawn).map(|(a, b)| a.abs_diff(*b)).max();
        assert!(off <= Some(2), "{drawn:?} is not {meant:?}");
    }
    for (grey, drawn) in greys.iter().zip(&pages[3].1) {
        let (at, cover) = (u32::from(grey >> 4), [0, 64, 128]);
        let cover = cover.get(at as usize).copied().unwrap_or(255);
        let meant = [at * 16, 9, 9].map(|light| (light * cover + 255 * (255 - cover)) / 255);
        let off = meant
            .iter()
            .zip(drawn)
            .map(|(a, b)| a.abs_diff(u32::from(*b)))
            .max();
        assert!(off <= Some(2), "{drawn:?} is not {meant:?}");
    }
    // How inks look is the program's own affair; the same inks look the same from each kind of file, and no ink is
    // paper.
    let inks = &pages[4].1;
    for (name, page) in [("a.jpg", &pages[5].1), ("b.jpg", &pages[6].1)] {
        for (at, (one, other)) in inks.iter().zip(page).enumerate() {
            let off = one.iter().zip(other).map(|(a, b)| a.abs_diff(*b)).max();
            assert!(off <= Some(16), "{name} pixel {at}: {other:?}, not {one:?}");
        }
    }
}

/// Paper and full black, from each kind of file.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn black_ink_looks_black_and_none_like_paper() {
    let folder = folder("black");
    for (ink, light) in [(0, 255), (255, 35)] {
        let samples = [0, 0, 0, ink].repeat(21 * 19);
        let tags: &[(u16, &[u16])] = &[(258, &[8; 4]), (262, &[5]), (277, &[4])];
        let in_tiff = tiff(true, SIZE, tags, std::slice::from_ref(&samples));
        let art = [
            read(&folder, "c.tif", &in_tiff),
            read(&folder, "d.jpg", &jpeg(ColorType::Cmyk, &samples, |_| {})),
            read(
                &folder,
                "e.jpg",
                &jpeg(ColorType::CmykAsYcck, &samples, |_| {}),
            ),
        ];
        for (_, colours) in drawn(&pdf_of(&folder, &art)).iter().take(3) {
            let off = colours[0].iter().map(|part| part.abs_diff(light)).max();
            assert!(off <= Some(20), "{ink} of black is {:?}", colours[0]);
        }
    }
}

#[test]
#[ignore = "needs poppler's pdfimages"]
fn another_program_takes_the_very_jpeg_out() {
    let folder = folder("jpeg");
    let files = [("a.jpg", ColorType::Luma, 1), ("b.jpg", ColorType::Rgb, 3)];
    let files = files.map(|(name, colour, channels)| {
        let bytes = jpeg(colour, &slopes(channels), |encoder| {
            encoder.set_progressive(channels == 3)
        });
        (read(&folder, name, &bytes), bytes)
    });
    let (art, bytes): (Vec<Art>, Vec<Vec<u8>>) = files.into_iter().unzip();
    let pdf = pdf_of(&folder, &art);
    says("pdfimages", &["-all"], &[pdf, folder.join("out")]).expect("it takes them out");
    for (number, bytes) in bytes.iter().enumerate() {
        let out = fs::read(folder.join(format!("out-{number:03}.jpg"))).expect("a JPEG file");
        assert!(out == *bytes, "picture {number} has other bytes");
    }
}

/// A letter F of ink, so that no two of the eight ways look alike.
#[test]
#[ignore = "needs poppler's pdftoppm"]
fn another_program_shows_pictures_upright() {
    const LETTER: [&str; 5] = ["####", "#   ", "### ", "#   ", "#   "];
    let upright = |x: usize, y: usize| LETTER[y].as_bytes()[x] == b'#';
    let folder = folder("ways");
    let art: Vec<Art> = (1..=8_u16)
        .map(|way| {
            let (width, height) = if way > 4 { (5, 4) } else { (4, 5) };
            let stored = (0..height).flat_map(|y| (0..width).map(move |x| (x, y)));
            // Where a stored pixel stands upright: TIFF 6.0, tag 274, worked out for each by hand.
            let light = stored.map(|(x, y)| match way {
                1 => upright(x, y),
                2 => upright(3 - x, y),
                3 => upright(3 - x, 4 - y),
                4 => upright(x, 4 - y),
                5 => upright(y, x),
                6 => upright(3 - y, x),
                7 => upright(3 - y, 4 - x),
                _ => upright(y, 4 - x),
            });
            let samples: Vec<u8> = light.map(|ink| if ink { 0 } else { 255 }).collect();
            let size = (width as u32, height as u32);
            let tags: &[(u16, &[u16])] = &[(258, &[8]), (262, &[1]), (274, &[way])];
            read(
                &folder,
                &format!("{way}.tif"),
                &tiff(way % 2 == 0, size, tags, &[samples]),
            )
        })
        .collect();
    for (way, (width, colours)) in (1..).zip(drawn(&pdf_of(&folder, &art))) {
        assert_eq!(width, 4);
        let shown: Vec<bool> = colours.iter().map(|colour| colour[0] < 128).collect();
        let letter: Vec<bool> = (0..20).map(|at| upright(at % 4, at / 4)).collect();
        assert_eq!(shown, letter, "orientation {way}");
    }
}

/// The profile that untagged colours get is, to another colour engine, the sRGB that it has by itself.
#[test]
#[ignore = "needs python3 with Pillow"]
fn another_colour_engine_takes_our_srgb_for_its_own() {
    let folder = folder("srgb");
    let bytes = png(
        png::ColorType::Rgb,
        png::BitDepth::Eight,
        &slopes(3),
        |_| {},
    );
    assert_eq!(
        bytes[16..24],
        [0, 0, 0, SIZE.0 as u8, 0, 0, 0, SIZE.1 as u8]
    );
    let pdf = pdf_of(&folder, &[read(&folder, "a.png", &bytes)]);
    let pdf = lopdf::Document::load(pdf).expect("it can be parsed");
    let streams = pdf
        .objects
        .values()
        .filter_map(|object| object.as_stream().ok());
    let mut profiles = streams.filter(|stream| stream.dict.has(b"N"));
    let profile = profiles
        .next()
        .expect("a profile")
        .decompressed_content()
        .expect("it unpacks");
    let path = folder.join("srgb.icc");
    fs::write(&path, profile).expect("a file");
    let asks = "
import sys
from PIL import Image, ImageCms
ours, theirs = ImageCms.getOpenProfile(sys.argv[1]), ImageCms.createProfile('sRGB')
steps = [16 * step for step in range(16)] + [255]
colours = [(r, g, b) for r in steps for g in steps for b in steps]
image = Image.new('RGB', (len(colours), 1))
image.putdata(colours)
for one, two in [(ours, theirs), (theirs, ours)]:
    seen = list(ImageCms.profileToProfile(image, one, two).getdata())
    print(max(abs(a - b) for was, now in zip(colours, seen) for a, b in zip(was, now)))
print(ImageCms.getProfileDescription(ours).strip())
";
    let said = says("python3", &["-c", asks], &[path]).expect("it converts");
    let said: Vec<&str> = said.lines().collect();
    assert_eq!(said.len(), 3, "{said:?}");
    for off in &said[..2] {
        assert!(off.parse::<u8>().expect("a number") <= 1, "off by {off}");
    }
    assert_eq!(said[2], "sRGB");
}
