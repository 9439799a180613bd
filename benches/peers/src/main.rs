//! What general-purpose libraries can do of the main job: the lines of a text filled one by one, not hyphenated, on
//! the pages of one PDF file. In the face, at the size and to the measure of `benches/prose.rs`, so that its figures
//! can stand beside these.
//!
//! `peers TEXT` reads a text whose paragraphs are parted by blank lines and does each thing once to begin with and
//! once more, measured: from the words in memory to the written file, all that the libraries remember made anew. It
//! prints a line for each: its name, then how long it took and how long all threads were at work, in milliseconds.

#[cfg(feature = "c-libraries")]
mod c;
mod rust;

use std::path::Path;
use std::process::{Command, ExitCode};
use std::time::{Duration, Instant};

use cpu_time::ProcessTime;

const FONT: &[u8] = include_bytes!("../../../fonts-open/alegreya/Alegreya-Regular.ttf");
/// The folder of that font.
const FONTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../fonts-open/alegreya");

// As in the plan of `benches/prose.rs`, in points.
const MM: f32 = 72.0 / 25.4;
const PAGE: (f32, f32) = (105.0 * MM, 297.0 * MM);
const LEFT: f32 = 11.0 * MM;
const HEAD: f32 = 14.0 * MM;
const FOOT: f32 = 16.0 * MM;
const SIZE: f32 = 11.0;
const LEADING: f32 = 15.0;
const INDENT: f32 = SIZE;

/// Tells the C libraries which fonts there are; it is read when the first of them asks.
const FONTS_KNOWN: &str = "FONTCONFIG_FILE";
/// Set where this program has been begun by itself.
const BEGUN: &str = "PEERS_BEGUN";

fn main() -> ExitCode {
    let name = std::env::args().nth(1);
    let Some((name, text)) =
        name.and_then(|name| Some((name.clone(), std::fs::read_to_string(name).ok()?)))
    else {
        eprintln!("usage: peers TEXT, a file of paragraphs parted by blank lines");
        return ExitCode::from(2);
    };
    let done = match std::env::var_os(BEGUN) {
        Some(_) => measure(&text),
        None => begin(&name),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

/// Begins this program anew where no fonts are known but those of the project.
fn begin(name: &str) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    let known = folder.path().join("fonts.conf");
    let cache = folder.path().join("cache");
    std::fs::write(
        &known,
        format!(
            "<?xml version=\"1.0\"?><fontconfig><dir>{FONTS}</dir><cachedir>{}</cachedir></fontconfig>",
            cache.display()
        ),
    )?;
    let mut again = Command::new(std::env::current_exe()?);
    again.arg(name).env(FONTS_KNOWN, known).env(BEGUN, "1");
    let status = again.status()?;
    match status.success() {
        true => Ok(()),
        false => Err(std::io::Error::other("the measuring failed")),
    }
}

fn measure(text: &str) -> std::io::Result<()> {
    let folder = tempfile::tempdir()?;
    let file = folder.path().join("peers.pdf");
    row("parley", || done(rust::lines(text)))?;
    row("parley-krilla", || std::fs::write(&file, rust::pdf(text)))?;
    #[cfg(feature = "c-libraries")]
    {
        row("harfbuzz", || done(c::shaping(text)))?;
        row("pango", || done(c::lines(text)))?;
        row("pango-cairo", || std::fs::write(&file, c::pdf(text)))?;
    }
    keep(&file)
}

/// Keeps the last file where `PEERS_KEEP` says, so that one can look at it.
fn keep(file: &Path) -> std::io::Result<()> {
    match std::env::var_os("PEERS_KEEP") {
        Some(name) => std::fs::copy(file, name).map(drop),
        None => Ok(()),
    }
}

fn row(name: &str, work: impl Fn() -> std::io::Result<()>) -> std::io::Result<()> {
    work()?;
    let (begun, at_work) = (Instant::now(), ProcessTime::now());
    work()?;
    let (took, worked) = (begun.elapsed(), at_work.elapsed());
    let ms = |time: Duration| time.as_secs_f64() * 1000.0;
    println!("{name} {:.3} {:.3}", ms(took), ms(worked));
    Ok(())
}

/// A count that nobody asks for.
fn done(count: usize) -> std::io::Result<()> {
    std::hint::black_box(count);
    Ok(())
}

/// The paragraphs of a text, each on one line.
fn paragraphs(text: &str) -> impl Iterator<Item = String> {
    let all = text.split("\n\n").map(str::trim);
    all.filter(|paragraph| !paragraph.is_empty())
        .map(|paragraph| paragraph.replace('\n', " "))
}
