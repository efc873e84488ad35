//! No sentence stands in the code of the rooms that speak, but as a phrase of a table, or on a rule's page, whose parts a
//! table holds too.

use std::path::Path;

/// The rooms that make page and plan. What `layout`, `model` and `files` say of faulty files is not among it.
const ROOMS: [&str; 6] = ["checks", "report", "scene", "siting", "driving", "advice"];

/// Texts of two words and more that are no sentence for a person, each with the reason.
const NO_SENTENCE: [(&str, &str, &str); 5] = [
    ("src/checks/wording/mod.rs", "before the first", "a name, as files accept it; the table says it"),
    ("src/checks/rules/headroom/mod.rs", "string from {}", "a name, as files accept it; the table says it"),
    ("src/checks/rules/readiness.rs", "before the first", "a name, as files accept it; the table says it"),
    ("src/report/json.rs", "positive points right of the centreline; toe-in positive", "a key of the JSON"),
    ("src/siting/maker/edge.rs", "the floor's edge", "a name nobody reads; the table says it"),
];

#[test]
fn no_sentence_stands_outside_the_tables() {
    let mut found = Vec::new();
    for room in ROOMS {
        walk(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room), &mut |name, text| {
            found.extend(sentences(text).into_iter().map(|s| (name.to_owned(), s)));
        });
    }
    let is_excused = |(name, text): &(String, String)| {
        NO_SENTENCE.iter().any(|(file, excused, _)| name.ends_with(file) && text == excused)
    };
    let wrong: Vec<_> = found.iter().filter(|s| !is_excused(s)).collect();
    assert!(wrong.is_empty(), "{wrong:#?}");
    for (file, excused, reason) in NO_SENTENCE {
        let met = found.iter().any(|(name, text)| name.ends_with(file) && text == excused);
        assert!(met && !reason.is_empty(), "{file} needs no exception for {excused:?}");
    }
}

/// The look finds a sentence, and passes over phrases, pages, comments and tests.
#[test]
fn the_look_finds_a_sentence() {
    let said = |code: &str| sentences(code);
    assert_eq!(said("fn f() -> String {\n    format!(\"{x} is too near\")\n}\n"), ["{x} is too near"]);
    assert_eq!(said("const WORD: &str = \"{} stays\";\n"), ["{} stays"; 0], "one word may be a key");
    for quiet in [
        "phrases! { pub in \"a\";\n    A = \"it is too near\";\n}\n",
        "    phrases! { pub in \"a\";\n        A = \"it is too near\";\n    }\n",
        "    page: Page {\n        title: \"Room to spare\",\n    },\n",
        "// \"it is too near\"\n",
        "/// Says \"it is too near\".\n",
        "#[allow(\n    clippy::panic,\n    reason = \"it is too near\"\n)]\n",
        "#[cfg(test)]\nmod tests {\n    const A: &str = \"it is too near\";\n}\n",
    ] {
        assert!(said(quiet).is_empty(), "{quiet}");
    }
}

/// The texts in quotes of two words and more.
fn sentences(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    // the line that ends what is passed over
    let mut until: Option<String> = None;
    for line in code.split("#[cfg(test)]").next().unwrap_or_default().lines() {
        let indent = &line[..line.len() - line.trim_start().len()];
        if let Some(end) = &until {
            if line.starts_with(end.as_str()) {
                until = None;
            }
        } else if line.trim_start().starts_with("phrases! {") || line.trim_start().starts_with("page: Page {")
        {
            until = Some(format!("{indent}}}"));
        } else if !["//", "reason = "].iter().any(|quiet| line.trim_start().starts_with(quiet)) {
            found.extend(quoted(line).into_iter().filter(|text| has_words(text)));
        }
    }
    found
}

fn quoted(line: &str) -> Vec<String> {
    line.replace("\\\"", "'").split('"').skip(1).step_by(2).map(str::to_owned).collect()
}

/// Two words of letters with a blank between them, what stands in braces left out.
fn has_words(text: &str) -> bool {
    let mut plain = String::new();
    let mut depth = 0;
    for c in text.chars() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            c if depth == 0 => plain.push(c),
            _ => {}
        }
    }
    let is_word = |w: &&str| w.chars().filter(char::is_ascii_alphabetic).count() > 1;
    plain.split(' ').filter(is_word).count() > 1
}

fn walk(folder: &Path, each: &mut impl FnMut(&str, &str)) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.to_string_lossy().replace('\\', "/");
        if path.is_dir() && !name.ends_with("/tests") {
            walk(&path, each);
        } else if name.ends_with(".rs") && !name.ends_with("/tests.rs") && !name.ends_with("/workbench.rs") {
            each(&name, &std::fs::read_to_string(&path).unwrap());
        }
    }
}
