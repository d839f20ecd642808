//! Pictures on a terminal: as sixels where it shows them, else as block characters with the words set among them.

mod blocks;
mod sixel;

pub use blocks::{Colours, blocks};
pub use sixel::sixel;

/// A colour: red, green, blue.
type Rgb = [u8; 3];

/// The mean of several colours; white where there are none.
fn mean(colours: impl Iterator<Item = Rgb>) -> Rgb {
    let (mut sums, mut count) = ([0_u32; 3], 0_u32);
    for colour in colours {
        count += 1;
        for (sum, part) in sums.iter_mut().zip(colour) {
            *sum += u32::from(part);
        }
    }
    sums.map(|sum| sum.checked_div(count).and_then(|mean| u8::try_from(mean).ok()).unwrap_or(u8::MAX))
}
