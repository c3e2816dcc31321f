//! Photos of every kind, and files that only look like some.

use super::*;
use image::{ImageFormat, Rgb, Rgba, RgbaImage};

/// Left half red, right half blue.
fn two_halves(width: u32, height: u32) -> DynamicImage {
    DynamicImage::ImageRgb8(RgbImage::from_fn(width, height, |x, _| {
        if x < width / 2 { Rgb([220, 20, 20]) } else { Rgb([20, 20, 220]) }
    }))
}

fn file(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).unwrap();
    bytes.into_inner()
}

fn reason(file: &[u8]) -> PhotoError {
    fit(file).err().unwrap()
}

/// An EXIF segment (Exif 2.32, CIPA DC-008) that says orientation 6: turn a quarter clockwise; and a made-up place.
fn with_exif(jpeg: &[u8]) -> Vec<u8> {
    let mut exif = b"Exif\0\0MM\0\x2A\0\0\0\x08\0\x01".to_vec();
    exif.extend_from_slice(b"\x01\x12\0\x03\0\0\0\x01\0\x06\0\0\0\0\0\0");
    exif.extend_from_slice(b"PLACE-OF-THE-WORKSHOP \xFF\xD9");
    let mut bytes = b"\xFF\xD8\xFF\xE1".to_vec();
    bytes.extend_from_slice(&u16::try_from(exif.len() + 2).unwrap().to_be_bytes());
    bytes.extend_from_slice(&exif);
    bytes.extend_from_slice(&jpeg[2..]);
    bytes
}

#[test]
fn agrees_each_kind_is_shrunk_to_the_longest_side() {
    for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
        let photo = fit(&file(&two_halves(2000, 500), format)).unwrap();
        assert_eq!((photo.width, photo.height), (1600, 400), "{format:?}");
        let again = image::load_from_memory_with_format(&photo.bytes, ImageFormat::Jpeg).unwrap().into_rgb8();
        assert_eq!(again.dimensions(), (1600, 400));
        assert!(again.get_pixel(200, 200).0[0] > 180 && again.get_pixel(1400, 200).0[2] > 180, "{format:?}");
    }
    let little = fit(&file(&two_halves(40, 30), ImageFormat::Png)).unwrap();
    assert_eq!((little.width, little.height), (40, 30), "nothing is blown up");
}

#[test]
fn exact_the_camera_is_held_upright_and_its_place_is_dropped() {
    let sent = with_exif(&file(&two_halves(400, 200), ImageFormat::Jpeg));
    let photo = fit(&sent).unwrap();
    assert_eq!((photo.width, photo.height), (200, 400));
    let again = image::load_from_memory(&photo.bytes).unwrap().into_rgb8();
    // Turned clockwise, the left half is on top.
    assert!(again.get_pixel(100, 50).0[0] > 180 && again.get_pixel(100, 350).0[2] > 180);
    let holds = |bytes: &[u8], word: &[u8]| bytes.windows(word.len()).any(|part| part == word);
    assert!(holds(&sent, b"PLACE-OF-THE-WORKSHOP"));
    assert!(!holds(&photo.bytes, b"PLACE-OF-THE-WORKSHOP") && !holds(&photo.bytes, b"Exif"));
}

#[test]
fn exact_what_shines_through_is_white() {
    let clear = DynamicImage::ImageRgba8(RgbaImage::from_pixel(16, 16, Rgba([0, 0, 0, 0])));
    let photo = fit(&file(&clear, ImageFormat::Png)).unwrap();
    assert_eq!(image::load_from_memory(&photo.bytes).unwrap().into_rgb8().get_pixel(8, 8).0, [255; 3]);
}

#[test]
fn refuses_other_kinds_whatever_they_are_called() {
    for file in
        [&b"GIF89a"[..], b"<svg xmlns='http://www.w3.org/2000/svg'/>", b"BM", b"\0\0\0\x18ftypheic", b"x"]
    {
        assert_eq!(reason(file), PhotoError::OtherKind);
    }
    assert_eq!(reason(b""), PhotoError::Nothing);
    assert_eq!(reason(&vec![0xFF; LARGEST_BYTES + 1]), PhotoError::TooLarge);
}

#[test]
fn refuses_photos_that_are_cut_short_or_broken() {
    for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
        let whole = file(&two_halves(300, 300), format);
        for keep in [13, whole.len() / 2, whole.len() - 3] {
            let error = fit(&whole[..keep]).err();
            assert_eq!(error, Some(PhotoError::Broken), "{format:?}, {keep} of {}", whole.len());
        }
    }
    let exif = with_exif(&file(&two_halves(300, 300), ImageFormat::Jpeg));
    assert_eq!(
        reason(&exif[..exif.len() / 2]),
        PhotoError::Broken,
        "the end mark inside a segment is not the end"
    );
    assert_eq!(reason(b"\xFF\xD8\xFF\xE0\0\x02garbage"), PhotoError::Broken);
}

#[test]
fn refuses_more_pixels_than_are_unpacked() {
    // PNG (ISO/IEC 15948), 11.2.2: width and height stand at bytes 16 to 23, the check sum of the head at 29.
    let mut bomb = file(&two_halves(8, 8), ImageFormat::Png);
    bomb[16..20].copy_from_slice(&30_000_u32.to_be_bytes());
    bomb[20..24].copy_from_slice(&30_000_u32.to_be_bytes());
    let sum = crc32(&bomb[12..29]);
    bomb[29..33].copy_from_slice(&sum.to_be_bytes());
    let error = reason(&bomb);
    assert_eq!(error, PhotoError::TooManyPixels { width: 30_000, height: 30_000 });
    assert!(error.to_string().contains("30000 by 30000"), "{error}");
    // JPEG: the frame head (FF C0) holds height and width at its bytes 5 to 8.
    let mut bomb = file(&two_halves(8, 8), ImageFormat::Jpeg);
    let frame = bomb.windows(2).position(|two| two == [0xFF, 0xC0]).unwrap();
    bomb[frame + 5..frame + 9].copy_from_slice(&[0x40, 0, 0x40, 0]);
    assert_eq!(reason(&bomb), PhotoError::TooManyPixels { width: 16_384, height: 16_384 });
}

/// The check sum of PNG (ISO/IEC 15948, annex D), bit by bit.
fn crc32(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, &byte| {
        (0..8).fold(sum ^ u32::from(byte), |sum, _| (sum >> 1) ^ (0xEDB8_8320 & (sum & 1).wrapping_neg()))
    })
}

#[test]
fn refuses_random_bytes_behind_a_right_beginning_without_a_panic() {
    // A linear congruence (Knuth, The Art of Computer Programming, vol. 2, 3.3.4, line 26) stands in for chance.
    let mut state = 1_u64;
    let mut noise = || {
        state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (state >> 56) as u8
    };
    for head in [&b"\xFF\xD8\xFF"[..], b"\x89PNG\r\n\x1A\n", b"RIFF\x20\0\0\0WEBPVP8 "] {
        for _ in 0..50 {
            let file: Vec<u8> = head.iter().copied().chain((0..400).map(|_| noise())).collect();
            assert!(fit(&file).is_err());
        }
    }
}
