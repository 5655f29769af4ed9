//! Where in a file an object stands: its line, found by the list it is in and its `id`.

use std::collections::BTreeMap;

/// `section/id` and `section` → line, from 1.
pub(super) fn of(text: &str) -> BTreeMap<String, usize> {
    let mut scan = Scan { line: 1, ..Scan::default() };
    let mut lines = BTreeMap::new();
    let mut bytes = text.bytes().peekable();
    while let Some(byte) = bytes.next() {
        match byte {
            b'\n' => scan.line += 1,
            b'"' => scan.last = string(&mut bytes, &mut scan.line),
            b':' => scan.key_done(&mut lines),
            b'{' | b'[' => {
                scan.depth += 1;
                scan.key.clear();
                if scan.depth == 3 {
                    scan.object_line = scan.line;
                }
            }
            b'}' | b']' => scan.close(&mut lines),
            b',' => scan.value_done(&mut lines),
            _ => {}
        }
    }
    lines
}

/// Depth 1 is the circuit, 2 its lists, 3 the objects in them.
#[derive(Default)]
struct Scan {
    line: usize,
    depth: usize,
    section: String,
    object_line: usize,
    key: String,
    last: String,
}

impl Scan {
    fn key_done(&mut self, lines: &mut BTreeMap<String, usize>) {
        self.key = std::mem::take(&mut self.last);
        if self.depth == 1 {
            self.section.clone_from(&self.key);
            lines.insert(self.section.clone(), self.line);
        }
    }

    fn value_done(&mut self, lines: &mut BTreeMap<String, usize>) {
        if self.depth == 3 && self.key == "id" {
            lines.insert(format!("{}/{}", self.section, self.last), self.object_line);
        }
        self.key.clear();
    }

    fn close(&mut self, lines: &mut BTreeMap<String, usize>) {
        self.value_done(lines);
        self.depth = self.depth.saturating_sub(1);
    }
}

fn string(bytes: &mut std::iter::Peekable<std::str::Bytes<'_>>, line: &mut usize) -> String {
    let mut text = Vec::new();
    while let Some(byte) = bytes.next() {
        match byte {
            b'"' => break,
            b'\\' => {
                bytes.next();
            }
            b'\n' => *line += 1,
            _ => text.push(byte),
        }
    }
    String::from_utf8_lossy(&text).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn objects_are_found_by_list_and_id() {
        let lines = of(
            "{\n\"points\": [\n  {\"name\": {\"en\": \"x\"},\n   \"id\": \"a\"},\n  {\"id\": \"b\"}],\n\"tests\": [{\"id\": \"a\"}]}",
        );
        assert_eq!((lines["points/a"], lines["points/b"], lines["tests/a"], lines["tests"]), (3, 5, 6, 6));
    }
}
