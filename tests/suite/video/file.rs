//! An MP4 file read by its standard, ISO/IEC 14496-12 and 14496-15, apart from the code that writes it.

/// What a player learns of a film before it looks at frames.
pub struct File {
    /// Pixels across and down: of the track and of its frames.
    pub sizes: [[u32; 2]; 2],
    /// Ticks in a second: of the film and of its track.
    pub ticks: [u32; 2],
    /// Length in ticks: of the film, of its track and of the track's media.
    pub lengths: [u32; 3],
    /// How many frames, and ticks from one to the next.
    pub steps: Vec<[u32; 2]>,
    /// Numbers of the frames that need no other, from 1.
    pub whole: Vec<u32>,
    /// Profile, constraints and level.
    pub profile: [u8; 3],
    /// Sequence and picture parameters.
    pub parameters: [Vec<u8>; 2],
    /// Primaries, curve and matrix.
    pub colours: [u16; 3],
    /// The one unit of each frame.
    pub frames: Vec<Vec<u8>>,
}

fn u16_at(bytes: &[u8], at: usize) -> u16 {
    u16::from_be_bytes(*bytes[at..].first_chunk().unwrap())
}

fn u32_at(bytes: &[u8], at: usize) -> u32 {
    u32::from_be_bytes(*bytes[at..].first_chunk().unwrap())
}

/// Boxes side by side: names and contents; they must fill the bytes exactly.
fn boxes(mut bytes: &[u8]) -> Vec<(String, &[u8])> {
    let mut found = Vec::new();
    while !bytes.is_empty() {
        let length = u32_at(bytes, 0) as usize;
        let name = String::from_utf8(bytes[4..8].to_vec()).unwrap();
        found.push((name, &bytes[8..length]));
        bytes = &bytes[length..];
    }
    found
}

fn names<'a>(boxes: &'a [(String, &[u8])]) -> Vec<&'a str> {
    boxes.iter().map(|(name, _)| name.as_str()).collect()
}

/// What a path of boxes leads to; each name must be there once.
fn at<'a>(bytes: &'a [u8], path: &[&str]) -> &'a [u8] {
    path.iter().fold(bytes, |bytes, name| {
        let all = boxes(bytes);
        let mut fitting = all.iter().filter(|(other, _)| other == name);
        let (_, content) = fitting.next().unwrap_or_else(|| panic!("no {name}"));
        assert!(fitting.next().is_none(), "two {name}");
        content
    })
}

impl File {
    /// # Panics
    /// Where anything in the file contradicts the standard or itself.
    pub fn read(bytes: &[u8]) -> Self {
        let top = boxes(bytes);
        assert_eq!(names(&top), ["ftyp", "moov", "mdat"]);
        assert!(top[0].1.starts_with(b"isom"));
        let film = top[1].1;
        assert_eq!(names(&boxes(film)), ["mvhd", "trak"]);
        let (head, track) = (at(film, &["mvhd"]), at(film, &["trak"]));
        let (track_head, media) = (at(track, &["tkhd"]), at(track, &["mdia"]));
        assert_eq!([head.len(), track_head.len()], [100, 84]);
        assert_eq!(u32_at(track_head, 0), 7, "in use");
        let media_head = at(media, &["mdhd"]);
        assert_eq!(&at(media, &["hdlr"])[8..12], b"vide");
        assert_eq!(at(media, &["minf", "vmhd"]).len(), 12);
        let reference = &at(media, &["minf", "dinf", "dref"])[8..];
        assert_eq!(at(reference, &["url "]), [0, 0, 0, 1], "the same file");
        let table = at(media, &["minf", "stbl"]);
        let (entry, inner) = entry(table);
        let settings = at(inner, &["avcC"]);
        let colours = at(inner, &["colr"]);
        assert_eq!(&colours[..4], b"nclx");
        for (what, place) in [("made", 4), ("changed", 8)] {
            for head in [head, track_head, media_head] {
                assert_eq!(u32_at(head, place), 0, "{what} by a clock");
            }
        }
        Self {
            sizes: [
                [76, 80].map(|at| u32_at(track_head, at) >> 16),
                [24, 26].map(|at| u16_at(entry, at).into()),
            ],
            ticks: [head, media_head].map(|head| u32_at(head, 12)),
            lengths: [
                u32_at(head, 16),
                u32_at(track_head, 20),
                u32_at(media_head, 16),
            ],
            steps: rows(at(table, &["stts"])),
            whole: rows(at(table, &["stss"])).iter().map(|[n]| *n).collect(),
            profile: [settings[1], settings[2], settings[3]],
            parameters: parameters(settings),
            colours: [4, 6, 8].map(|at| u16_at(colours, at)),
            frames: frames(bytes, top[2].1, table),
        }
    }
}

/// Rows of a table that says how many it has.
fn rows<const N: usize>(table: &[u8]) -> Vec<[u32; N]> {
    let count = u32_at(table, 4) as usize;
    assert_eq!(table.len(), 8 + 4 * N * count);
    let row = |row: usize| std::array::from_fn(|i| u32_at(table, 8 + 4 * (N * row + i)));
    (0..count).map(row).collect()
}

/// The entry that says what frames are, and the boxes in it.
fn entry(table: &[u8]) -> (&[u8], &[u8]) {
    let entries = at(table, &["stsd"]);
    assert_eq!(u32_at(entries, 4), 1);
    let entry = at(&entries[8..], &["avc1"]);
    (entry, &entry[78..])
}

/// The two parameter sets.
fn parameters(settings: &[u8]) -> [Vec<u8>; 2] {
    assert_eq!((settings[0], settings[4] & 3, settings[5] & 31), (1, 3, 1));
    let first = usize::from(u16_at(settings, 6));
    let rest = &settings[8 + first..];
    assert_eq!(rest[0], 1);
    assert_eq!(rest.len(), 3 + usize::from(u16_at(rest, 1)));
    let [sequence, picture] = [&settings[8..8 + first], &rest[3..]];
    assert_eq!([sequence[0], picture[0]], [0x67, 0x68]);
    assert_eq!(sequence[1..4], settings[1..4]);
    [sequence.to_vec(), picture.to_vec()]
}

/// The frames, each found by its offset; together they are all data.
fn frames(file: &[u8], data: &[u8], table: &[u8]) -> Vec<Vec<u8>> {
    let sizes = at(table, &["stsz"]);
    assert_eq!(u32_at(sizes, 4), 0, "sizes of their own");
    let sizes: Vec<usize> = rows(&sizes[4..]).iter().map(|[s]| *s as usize).collect();
    assert_eq!(sizes.iter().sum::<usize>(), data.len());
    let [[start]] = rows(at(table, &["stco"]))[..] else {
        panic!("more than one piece");
    };
    assert_eq!(rows(at(table, &["stsc"])), [[1, sizes.len() as u32, 1]]);
    let mut rest = &file[start as usize..];
    let mut frames = Vec::new();
    for size in sizes {
        assert_eq!(u32_at(rest, 0) as usize + 4, size, "one unit");
        frames.push(rest[4..size].to_vec());
        rest = &rest[size..];
    }
    assert!(rest.is_empty());
    frames
}
