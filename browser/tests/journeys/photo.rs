//! A small photo, written byte by byte: the program's own picture library has no part in it.

/// A PNG of 200 x 100 pixels, the left half red and the right half blue.
///
/// After the PNG specification (W3C Recommendation, 2003): signature, header, one stored block of pixels, end.
pub(crate) fn png() -> Vec<u8> {
    let (width, height) = (200_u32, 100_u32);
    let mut pixels = Vec::new();
    for _ in 0..height {
        // Each row begins with its filter: none.
        pixels.extend([0]);
        for x in 0..width {
            pixels.extend(if x < width / 2 { [220, 20, 20] } else { [20, 20, 220] });
        }
    }
    let mut header = [width.to_be_bytes(), height.to_be_bytes()].concat();
    // Eight bits a colour, red, green and blue, the only packing and filtering there are, rows in order.
    header.extend([8, 2, 0, 0, 0]);
    let mut file = b"\x89PNG\r\n\x1a\n".to_vec();
    file.extend(chunk(*b"IHDR", &header));
    file.extend(chunk(*b"IDAT", &stored(&pixels)));
    file.extend(chunk(*b"IEND", &[]));
    file
}

fn chunk(kind: [u8; 4], data: &[u8]) -> Vec<u8> {
    let length = u32::try_from(data.len()).expect("a chunk is short");
    let checked = [&kind[..], data].concat();
    [&length.to_be_bytes()[..], &checked, &crc(&checked).to_be_bytes()].concat()
}

/// Bytes as a zlib stream (RFC 1950) of one block that is not packed (RFC 1951, 3.2.4).
fn stored(bytes: &[u8]) -> Vec<u8> {
    let length = u16::try_from(bytes.len()).expect("one block holds all pixels");
    let (low, high) = bytes.iter().fold((1_u32, 0_u32), |(low, high), byte| {
        let low = (low + u32::from(*byte)) % 65_521;
        (low, (high + low) % 65_521)
    });
    let mut stream = vec![0x78, 0x01, 1];
    stream.extend(length.to_le_bytes());
    stream.extend((!length).to_le_bytes());
    stream.extend(bytes);
    stream.extend((high << 16 | low).to_be_bytes());
    stream
}

/// Cyclic redundancy check of the PNG specification, annex D.
fn crc(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| (sum >> 1) ^ if sum & 1 == 1 { 0xEDB8_8320 } else { 0 })
    })
}
