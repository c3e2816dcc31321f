//! A photo made fit for the record: recognised by its bytes, held to limits, shrunk, turned upright, written anew.
//!
//! Writing it anew as JPEG drops everything a camera put beside the picture, the place where it was taken included.

use image::codecs::jpeg::{JpegDecoder, JpegEncoder};
use image::codecs::png::PngDecoder;
use image::codecs::webp::WebPDecoder;
use image::{DynamicImage, ImageDecoder, ImageError, Limits, RgbImage};
use std::io::Cursor;
use std::sync::{Mutex, PoisonError};

/// Largest file that is taken, in bytes.
pub(super) const LARGEST_BYTES: usize = 12_000_000;
/// Longest side that is kept, in pixels: on a sheet of 180 mm that is more than 200 dots an inch.
pub(super) const LONGEST_SIDE: u32 = 1600;
/// Longest side of a small picture in a list, in pixels.
pub(super) const SMALL_SIDE: u32 = 320;
/// Most pixels that are unpacked: a small file can claim any number.
const MOST_PIXELS: u64 = 50_000_000;
/// Memory that one photo may take while it is unpacked: eight bytes a pixel at most.
const MOST_MEMORY: u64 = MOST_PIXELS * 8;
/// Quality of the JPEG, of 100: edges and scribed lines stay clean.
const QUALITY: u8 = 82;

/// A photo as it is kept.
pub(super) struct Photo {
    /// JPEG.
    pub(super) bytes: Vec<u8>,
    /// In pixels.
    pub(super) width: u32,
    /// In pixels.
    pub(super) height: u32,
}

/// Why a file is not taken.
#[derive(Debug, PartialEq, Eq, thiserror::Error)]
pub(crate) enum PhotoError {
    /// No file, or an empty one.
    #[error("No photo was sent. Choose a photo or take one, then send it.")]
    Nothing,
    /// More than [`LARGEST_BYTES`].
    #[error(
        "The photo is larger than 12 MB and was not kept. Set the camera to a smaller picture, or send a part of it."
    )]
    TooLarge,
    /// None of the three kinds.
    #[error(
        "This file is no photo of a kind that is kept (JPEG, PNG or WebP), whatever its name says, and was not kept. \
         Set the camera to JPEG, or save the picture as JPEG first."
    )]
    OtherKind,
    /// More than [`MOST_PIXELS`].
    #[error(
        "The photo has {width} by {height} pixels and was not unpacked: 50 million pixels are the most. Send a smaller \
         picture."
    )]
    TooManyPixels {
        /// As the file claims.
        width: u32,
        /// As the file claims.
        height: u32,
    },
    /// Its end is missing, or something in it is wrong.
    #[error("The photo is cut short or broken and was not kept. Send it once more, or take it again.")]
    Broken,
    /// It unpacks into more than is allowed.
    #[error("The photo takes too much memory to unpack and was not kept. Save it as JPEG and send that.")]
    TooMuch,
}

impl From<ImageError> for PhotoError {
    fn from(error: ImageError) -> Self {
        match error {
            ImageError::Limits(_) => Self::TooMuch,
            _ => Self::Broken,
        }
    }
}

/// Makes a photo fit for the record. Takes a moment: not for an async thread.
///
/// # Errors
/// One sentence for whoever sent it.
pub(super) fn fit(file: &[u8]) -> Result<Photo, PhotoError> {
    shrunk(file, LONGEST_SIDE)
}

/// A small picture for lists, of one that is kept.
///
/// # Errors
/// As for [`fit`].
pub(crate) fn small(file: &[u8]) -> Result<Vec<u8>, PhotoError> {
    shrunk(file, SMALL_SIDE).map(|photo| photo.bytes)
}

fn shrunk(file: &[u8], longest: u32) -> Result<Photo, PhotoError> {
    // One at a time: several large photos at once would fill the memory of a small computer.
    static ONE: Mutex<()> = Mutex::new(());
    let _one = ONE.lock().unwrap_or_else(PoisonError::into_inner);
    let whole = unpack(file, longest)?;
    let picture = on_white(whole);
    let mut bytes = Vec::new();
    JpegEncoder::new_with_quality(&mut bytes, QUALITY).encode_image(&picture)?;
    Ok(Photo { bytes, width: picture.width(), height: picture.height() })
}

fn unpack(file: &[u8], longest: u32) -> Result<DynamicImage, PhotoError> {
    if file.is_empty() {
        return Err(PhotoError::Nothing);
    }
    if file.len() > LARGEST_BYTES {
        return Err(PhotoError::TooLarge);
    }
    let bytes = Cursor::new(file);
    let whole = |reaches_end: bool| if reaches_end { Ok(()) } else { Err(PhotoError::Broken) };
    if file.starts_with(b"\xFF\xD8\xFF") {
        whole(jpeg_has_end(file))?;
        decode(JpegDecoder::new(bytes)?, longest)
    } else if file.starts_with(b"\x89PNG\r\n\x1A\n") {
        whole(png_has_end(file))?;
        decode(PngDecoder::with_limits(bytes, limits())?, longest)
    } else if file.starts_with(b"RIFF") && file.get(8..12) == Some(b"WEBP") {
        whole(webp_has_end(file))?;
        decode(WebPDecoder::new(bytes)?, longest)
    } else {
        Err(PhotoError::OtherKind)
    }
}

fn limits() -> Limits {
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_MEMORY);
    limits
}

/// Unpacks within limits, shrinks and turns upright.
fn decode(mut decoder: impl ImageDecoder, longest: u32) -> Result<DynamicImage, PhotoError> {
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS {
        return Err(PhotoError::TooManyPixels { width, height });
    }
    decoder.set_limits(limits())?;
    let upright = decoder.orientation()?;
    let mut picture = DynamicImage::from_decoder(decoder)?;
    if picture.width().max(picture.height()) > longest {
        picture = picture.thumbnail(longest, longest);
    }
    picture.apply_orientation(upright);
    Ok(picture)
}

/// What shines through becomes white, as paper is.
fn on_white(picture: DynamicImage) -> RgbImage {
    if !picture.color().has_alpha() {
        return picture.into_rgb8();
    }
    let picture = picture.into_rgba8();
    RgbImage::from_fn(picture.width(), picture.height(), |x, y| {
        let [r, g, b, alpha] = picture.get_pixel(x, y).0;
        let over = |colour: u8| {
            let mixed = (u32::from(colour) * u32::from(alpha) + 255 * (255 - u32::from(alpha)) + 127) / 255;
            u8::try_from(mixed).unwrap_or(u8::MAX)
        };
        image::Rgb([over(r), over(g), over(b)])
    })
}

/// Whether a JPEG reaches its end mark: decoders fill up what is missing with grey and say nothing.
///
/// ITU-T T.81 (1992), annex B: segments with their lengths up to the first scan; after it FF D9 can only be the end,
/// because FF within a scan is followed by 00. A small picture inside a segment, with an end of its own, is passed over.
fn jpeg_has_end(file: &[u8]) -> bool {
    let mut at = 2;
    loop {
        let Some(&[0xFF, mark]) = file.get(at..at + 2) else { return false };
        match mark {
            // Filling.
            0xFF => at += 1,
            // Marks without a length.
            0x01 | 0xD0..=0xD7 => at += 2,
            _ => {
                let Some(&[high, low]) = file.get(at + 2..at + 4) else { return false };
                at += 2 + usize::from(u16::from_be_bytes([high, low]));
                if mark == 0xDA {
                    return file.get(at..).is_some_and(|scan| scan.windows(2).any(|two| two == [0xFF, 0xD9]));
                }
            }
        }
    }
}

/// Whether a PNG has its last chunk: length 0, IEND, and the check sum that this always has (ISO/IEC 15948, 11.2.5).
fn png_has_end(file: &[u8]) -> bool {
    const END: &[u8; 12] = b"\0\0\0\0IEND\xAE\x42\x60\x82";
    file.windows(END.len()).rev().any(|part| part == END)
}

/// Whether a WebP is as long as its head says (RFC 9649, section 2.4: size of what follows byte 8).
fn webp_has_end(file: &[u8]) -> bool {
    let Some(&[a, b, c, d]) = file.get(4..8) else { return false };
    file.len() as u64 >= 8 + u64::from(u32::from_le_bytes([a, b, c, d]))
}

#[cfg(test)]
#[path = "photo_tests.rs"]
mod tests;
