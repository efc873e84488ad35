//! Figures of an `expected.json`, held against the program's answer.
//!
//! A figure names a place in the answer:
//! `key` "a.b" · `finding` {rule, items, procedure?, setup?, subset?} with a `key` of it (of several that match, the one that fails
//! without a number, else the least margin) · `no_failure` {rule, items} · `binding` {rule, items} · `mark` or `station` with a `key` ·
//! `anywhere` [words] one entry of a list says all of · `heading` with a `key` · `shortfall` key · `change` part of its text, with a `key` ·
//! `exit`. An item may be a list of spellings; with `subset` the finding may name more items.
//! And one test: `equals` · `in` · `near` with `tol` (and `modulo`) · `range` · `at_least` · `mentions` · `count` · `outline` with `tol` ·
//! `depth_in` with `near`, `tol` · `partition`.

use serde_json::{Value, json};

use super::plane::{depth_in, outlines_apart};

/// Slack for comparing decimal numbers.
const EXACT: f64 = 1e-9;

/// Says how a figure disagrees; nothing when it agrees.
pub(crate) fn disagreement(figure: &Value, answer: &Value, exit: i32) -> Option<String> {
    let (label, got) = locate(figure, answer, exit);
    let (agrees, wanted) = holds(figure, got.as_ref());
    (!agrees).then(|| {
        let got = got.map_or("nothing".into(), |g| g.to_string());
        format!("{label}: should be {wanted}, is {}", got.chars().take(160).collect::<String>())
    })
}

/// What the figure is about, and what stands there.
fn locate(figure: &Value, answer: &Value, exit: i32) -> (String, Option<Value>) {
    let key = figure["key"].as_str().unwrap_or_default();
    if figure.get("exit").is_some() {
        return ("exit".into(), Some(json!(exit)));
    }
    if let Some(words) = figure.get("anywhere") {
        return (format!("anywhere {words}"), Some(entries_that_say(words, answer)));
    }
    if let Some(wanted) = figure.get("no_failure") {
        let bad = |f: &&Value| matches!(f["outcome"].as_str(), Some("fail" | "movable" | "unknown"));
        let failing: Vec<&Value> = findings(answer, wanted).into_iter().filter(bad).collect();
        return (format!("no failure of {wanted}"), Some(json!(failing)));
    }
    if figure.get("binding").is_some() {
        let index = answer["binding"].as_u64().unwrap_or(u64::MAX) as usize;
        return ("binding".into(), answer["findings"].get(index).cloned());
    }
    if let Some(wanted) = figure.get("finding") {
        return (format!("{wanted} {key}"), worst(findings(answer, wanted)).and_then(|f| at(f, key)));
    }
    for kind in ["mark", "station"] {
        if let Some(name) = figure.get(kind) {
            let same = |x: &&Value| {
                x[kind] == *name
                    && ["procedure", "setup"].iter().all(|k| figure.get(k).is_none_or(|v| x[k] == *v))
            };
            let found = list(answer, &format!("{kind}s")).iter().find(same);
            return (format!("{kind} {name} {key}"), found.and_then(|x| at(x, key)));
        }
    }
    if let Some(heading) = figure["heading"].as_f64() {
        let same = |h: &&Value| {
            let turn = h["heading_deg"].as_f64().unwrap_or(f64::NAN) - heading;
            ((turn + 180.0).rem_euclid(360.0) - 180.0).abs() < 1e-6
        };
        let found = list(answer, "headings").iter().find(same);
        return (format!("heading {heading} {key}"), found.and_then(|h| at(h, key)));
    }
    if let Some(short) = figure["shortfall"].as_str() {
        return (format!("shortfall {short}"), answer["shortfall"].get(short).cloned());
    }
    if let Some(part) = figure["change"].as_str() {
        let says = |c: &&Value| {
            c["change"].as_str().is_some_and(|t| t.to_lowercase().contains(&part.to_lowercase()))
        };
        let found = list(answer, "changes").iter().find(says);
        return (format!("change {part} {key}"), found.and_then(|c| at(c, key)));
    }
    (key.into(), at(answer, key))
}

/// Whether the figure's test holds, and what it wants.
fn holds(figure: &Value, got: Option<&Value>) -> (bool, String) {
    let number = got.and_then(Value::as_f64);
    let items = got.and_then(Value::as_array);
    if figure.get("anywhere").is_some() {
        return (items.is_some_and(|hits| !hits.is_empty()), "said".into());
    }
    if figure.get("no_failure").is_some() {
        return (items.is_some_and(Vec::is_empty), "none".into());
    }
    if let Some(wanted) = figure.get("binding") {
        let holds = got.is_some_and(|f| f["rule"] == wanted["rule"] && names(wanted, f));
        return (holds, wanted.to_string());
    }
    if let Some(wanted) = figure.get("exit").or(figure.get("equals")) {
        return (got.is_some_and(|g| same(wanted, g, 0.0)), wanted.to_string());
    }
    if let Some(all) = figure["in"].as_array() {
        return (
            got.is_some_and(|g| all.iter().any(|w| same(w, g, 0.0))),
            format!("one of {}", figure["in"]),
        );
    }
    let tol = figure["tol"].as_f64().unwrap_or(0.0);
    if let Some(outline) = figure.get("outline") {
        let apart = got.map_or(f64::INFINITY, |g| outlines_apart(outline, g));
        return (apart <= tol, format!("the outline within {tol} mm; it is {apart:.2} mm apart"));
    }
    if let Some(rings) = figure.get("depth_in") {
        let place = got.and_then(|g| Some((g["x_mm"].as_f64()?, g["y_mm"].as_f64()?)));
        let depth = place.map_or(f64::NAN, |p| depth_in(p, rings));
        let near = figure["near"].as_f64().unwrap_or(f64::NAN);
        return ((depth - near).abs() <= tol, format!("a stand {near:.2} deep; it is {depth:.2} deep"));
    }
    if let Some(near) = figure.get("near") {
        let close = match figure["modulo"].as_f64() {
            Some(turn) => {
                let off = number.unwrap_or(f64::NAN) - near.as_f64().unwrap_or(f64::NAN);
                ((off + turn / 2.0).rem_euclid(turn) - turn / 2.0).abs() <= tol + EXACT
            }
            None => got.is_some_and(|g| same(near, g, tol)),
        };
        return (close, format!("{near} within {tol}"));
    }
    if let Some((low, high)) = figure["range"].as_array().and_then(|r| Some((r[0].as_f64()?, r[1].as_f64()?)))
    {
        return (number.is_some_and(|n| low - EXACT <= n && n <= high + EXACT), format!("{low} to {high}"));
    }
    if let Some(least) = figure["at_least"].as_f64() {
        return (number.is_some_and(|n| least - 1e-6 <= n), format!("at least {least}"));
    }
    if let Some(wanted) = figure.get("mentions") {
        let said =
            |word: &Value| items.is_some_and(|all| all.iter().any(|g| lower(g).contains(&lower(word))));
        let holds = wanted.as_array().map_or_else(|| said(wanted), |words| words.iter().any(said));
        return (holds, format!("a mention of {wanted}"));
    }
    if let Some(count) = figure["count"].as_u64() {
        return (items.is_some_and(|i| i.len() as u64 == count), format!("{count} entries"));
    }
    if let Some(groups) = figure["partition"].as_array() {
        return (items.is_some_and(|i| partitioned(groups, i)), format!("split as {}", figure["partition"]));
    }
    panic!("a figure without a test: {figure}");
}

/// Entries of any list of the answer that say all the words.
fn entries_that_say(words: &Value, answer: &Value) -> Value {
    let mut hits = Vec::new();
    for (key, value) in answer.as_object().into_iter().flatten() {
        for entry in value.as_array().map_or(std::slice::from_ref(value), Vec::as_slice) {
            let text = format!("{key} {entry}").to_lowercase();
            if words.as_array().is_some_and(|w| w.iter().all(|w| text.contains(&lower(w)))) {
                hits.push(entry.clone());
            }
        }
    }
    Value::Array(hits)
}

/// Findings of the rule, procedure, setup and items that are wanted.
fn findings<'a>(answer: &'a Value, wanted: &Value) -> Vec<&'a Value> {
    let fits = |f: &&Value| {
        ["rule", "procedure", "setup"].iter().all(|k| wanted.get(k).is_none_or(|v| f[k] == *v))
            && names(wanted, f)
    };
    list(answer, "findings").iter().filter(fits).collect()
}

/// Of several findings the one that decides: bad without a number, else of least margin.
fn worst(found: Vec<&Value>) -> Option<&Value> {
    let rank = |f: &Value| match (f["margin_mm"].as_f64(), f["outcome"].as_str()) {
        (None, Some("fail" | "unknown" | "movable")) => f64::NEG_INFINITY,
        (margin, _) => margin.unwrap_or(f64::INFINITY),
    };
    found.into_iter().min_by(|a, b| rank(a).total_cmp(&rank(b)))
}

/// Whether the finding names the wanted items, each once; without `subset` no others.
fn names(wanted: &Value, finding: &Value) -> bool {
    fn assign(wanted: &[Value], left: &[&Value]) -> bool {
        let Some((first, rest)) = wanted.split_first() else { return true };
        let spelt = |item: &Value| first.as_array().map_or(first == item, |all| all.contains(item));
        (0..left.len()).filter(|i| spelt(left[*i])).any(|i| {
            let others: Vec<&Value> =
                left.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, v)| *v).collect();
            assign(rest, &others)
        })
    }
    let Some(items) = wanted["items"].as_array() else { return true };
    let got: Vec<&Value> = finding["items"].as_array().into_iter().flatten().collect();
    (wanted["subset"] == json!(true) || got.len() == items.len()) && assign(items, &got)
}

/// Every printed stand serves exactly one group, and every group is served.
fn partitioned(groups: &[Value], stands: &[Value]) -> bool {
    let mut left: Vec<&Value> = groups.iter().collect();
    stands.len() == groups.len()
        && stands.iter().all(|stand| {
            let setups = lower(&stand["setups"]);
            let served =
                |g: &&Value| g.as_array().is_some_and(|w| w.iter().all(|w| setups.contains(&lower(w))));
            left.iter().position(served).map(|i| left.remove(i)).is_some()
        })
}

/// Equal, numbers within `tol`; a list may be longer than the wanted one only where numbers are compared.
fn same(wanted: &Value, got: &Value, tol: f64) -> bool {
    match (wanted, got) {
        (Value::Number(w), Value::Number(g)) => {
            (w.as_f64().unwrap_or(f64::NAN) - g.as_f64().unwrap_or(f64::NAN)).abs() <= tol + EXACT
        }
        (Value::Array(w), Value::Array(g)) => {
            (w.len() == g.len() || tol > 0.0 && w.len() < g.len())
                && w.iter().zip(g).all(|(w, g)| same(w, g, tol))
        }
        _ => wanted == got,
    }
}

/// The value under a dotted key.
fn at(value: &Value, key: &str) -> Option<Value> {
    key.split('.')
        .try_fold(value, |v, part| match part.parse::<usize>() {
            Ok(index) if v.is_array() => v.get(index),
            _ => v.get(part),
        })
        .cloned()
}

fn list<'a>(answer: &'a Value, key: &str) -> &'a [Value] {
    answer[key].as_array().map_or(&[], Vec::as_slice)
}

fn lower(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), str::to_string).to_lowercase()
}
