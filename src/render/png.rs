//! PNG, for chats and screens that show no SVG: our own SVG rasterised with the shipped typeface only, so it
//! looks the same on every machine.

use std::sync::{Arc, OnceLock};

use ::png::{ColorType, Compression, Encoder, EncodingError};
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::fontdb::Database;
use resvg::usvg::{Options, Tree};

use super::{RenderError, svg};
use crate::drawing::picture::Picture;

/// The widest and tallest a PNG may be, in pixels: a chat takes no larger picture.
const LARGEST: u32 = 8_000;

/// The picture as a PNG file `width` pixels wide.
pub fn write(picture: &Picture, width: u32) -> Result<Vec<u8>, RenderError> {
    raster(&tree(picture)?, &picture.name, picture.made.as_deref(), width)
}

/// Any SVG as a PNG file `width` pixels wide.
pub fn of_svg(name: &str, svg: &str, width: u32) -> Result<Vec<u8>, RenderError> {
    raster(&read(name, svg)?, name, None, width)
}

fn raster(tree: &Tree, name: &str, made: Option<&str>, width: u32) -> Result<Vec<u8>, RenderError> {
    encode(&on_paper(name, tree, width)?, made).map_err(|error| RenderError::Writer(error.to_string()))
}

/// The tree on white paper, `width` pixels wide.
pub(super) fn on_paper(name: &str, tree: &Tree, width: u32) -> Result<Pixmap, RenderError> {
    let size = tree.size();
    let tall = f64::from(size.height()) * f64::from(width) / f64::from(size.width());
    let too_large = || RenderError::Size { name: name.to_owned(), width: f64::from(width), height: tall };
    let height = pixels(tall.ceil()).filter(|height| *height <= LARGEST && width <= LARGEST);
    let mut pixmap = height.and_then(|height| Pixmap::new(width, height)).ok_or_else(too_large)?;
    pixmap.fill(Color::WHITE);
    let across = f32::from(u16::try_from(width).unwrap_or(u16::MAX)) / size.width();
    resvg::render(tree, Transform::from_scale(across, across), &mut pixmap.as_mut());
    Ok(pixmap)
}

/// Pixels on paper hide nothing: three bytes each say it all, and what packs them quickly packs line drawings well.
fn encode(pixmap: &Pixmap, made: Option<&str>) -> Result<Vec<u8>, EncodingError> {
    let rgb: Vec<u8> =
        pixmap.pixels().iter().flat_map(|pixel| [pixel.red(), pixel.green(), pixel.blue()]).collect();
    let mut file = Vec::with_capacity(rgb.len() / 16);
    let mut encoder = Encoder::new(&mut file, pixmap.width(), pixmap.height());
    encoder.set_color(ColorType::Rgb);
    encoder.set_compression(Compression::Fast);
    if let Some(made) = made {
        encoder.add_text_chunk("Source".to_owned(), made.to_owned())?;
    }
    let mut writer = encoder.write_header()?;
    writer.write_image_data(&rgb)?;
    writer.finish()?;
    Ok(file)
}

/// A whole number of pixels, where it is one.
fn pixels(value: f64) -> Option<u32> {
    // `format!` is the one conversion std offers from f64 that neither truncates nor needs `as`.
    format!("{value:.0}").parse().ok()
}

/// The picture as the tree both rasteriser and PDF writer read.
pub(crate) fn tree(picture: &Picture) -> Result<Tree, RenderError> {
    read(&picture.name, &svg::write(picture))
}

/// Any SVG as a tree, its words in the shipped typeface.
pub(super) fn read(name: &str, svg: &str) -> Result<Tree, RenderError> {
    let options = Options { fontdb: typefaces()?, font_family: FAMILY.to_owned(), ..Options::default() };
    Tree::from_str(svg, &options)
        .map_err(|error| RenderError::Unreadable { name: name.to_owned(), reason: error.to_string() })
}

const FAMILY: &str = "DejaVu Sans Mono";

/// The shipped typeface, opened once.
fn typefaces() -> Result<Arc<Database>, RenderError> {
    static FONTS: OnceLock<Arc<Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut fonts = Database::new();
        fonts.load_font_data(dejavu::sans_mono::regular().to_vec());
        fonts.load_font_data(dejavu::sans_mono::bold().to_vec());
        Arc::new(fonts)
    });
    // Words are dropped without a word where no face is found.
    if fonts.len() == 2 { Ok(Arc::clone(fonts)) } else { Err(RenderError::Typeface) }
}
