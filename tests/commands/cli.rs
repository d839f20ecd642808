//! The command line: what it prints where, and how it ends.

#![expect(clippy::expect_used, reason = "helpers of tests")]

use std::fs;
use std::io::Read;
use std::path::Path;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

fn lapwise(arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_lapwise"));
    command.args(arguments).env_remove("LAPWISE_BOOK").env_remove("LAPWISE_DATA").stdin(Stdio::null());
    command
}

fn run(arguments: &[&str]) -> Output {
    lapwise(arguments).output().expect("it runs")
}

fn out(output: &Output) -> &str {
    std::str::from_utf8(&output.stdout).expect("text")
}

fn complaint(output: &Output) -> &str {
    std::str::from_utf8(&output.stderr).expect("text")
}

/// It failed, said why on standard error alone, and did not panic.
fn fails(output: &Output, because: &[&str]) {
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert_eq!(out(output), "", "nothing on standard output");
    let said = complaint(output);
    assert!(said.starts_with("lapwise: ") && !said.contains("panicked"), "{said}");
    for part in because {
        assert!(said.contains(part), "`{part}` is not in: {said}");
    }
}

#[test]
fn read_gives_a_verdict_for_each_quantity() {
    for (quantity, text, key, figure) in [
        ("length", "8ft 6", "mm", 2_590.8),
        ("width", "2,4 m", "mm", 2_400.0),
        ("slope_length", "1.8m", "mm", 1_800.0),
        ("height", "2m40", "mm", 2_400.0),
        ("rise", "300mm", "mm", 300.0),
        ("deck_thickness", "1/2 in", "mm", 12.7),
        ("spacing", "16 inches", "mm", 406.4),
        ("overhang", "50 mm", "mm", 50.0),
        ("sheet_length", "2 m", "mm", 2_000.0),
        ("sheet_width", "950 mm", "mm", 950.0),
        ("corrugation_height", "36 mm", "mm", 36.0),
        ("pitch", "22.5 degrees", "deg", 22.5),
    ] {
        let output = run(&["read", "--as", quantity, "--", text]);
        assert!(output.status.success(), "{quantity}: {output:?}");
        let verdict: Value = serde_json::from_str(out(&output)).expect("JSON");
        assert_eq!(verdict["verdict"], "value", "{quantity} of {text}: {verdict}");
        let found = verdict[key].as_f64().expect("a figure");
        assert!((found - figure).abs() < 1e-6, "{quantity} of {text}: {verdict}");
    }
}

#[test]
fn read_takes_whatever_was_typed() {
    for arguments in
        [&["--", "-3"][..], &["-3"], &["--", "-3", "m"], &["--", ""], &["--", "--"], &["--", "22°"]]
    {
        let output = run(&[&["read", "--as", "length"], arguments].concat());
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        let verdict: Value = serde_json::from_str(out(&output)).expect("JSON");
        assert_eq!(verdict["verdict"], "reject", "{arguments:?}: {verdict}");
        assert!(verdict["why"].as_str().is_some_and(|why| !why.is_empty()), "{verdict}");
    }
    // The words may come apart, as a shell parts them.
    let output = run(&["read", "--as", "length", "--usual", "ft-in", "--", "8", "foot", "6"]);
    assert!(out(&output).contains("2590.8"), "{output:?}");
}

#[test]
fn what_the_command_line_does_not_know_is_a_usage_error() {
    for arguments in [
        &["read", "--as", "colour", "--", "red"][..],
        &["read", "--", "2 m"],
        &["read", "--as", "length"],
        &["paint"],
        &["plan"],
        &["plan", "site.toml", "--as", "pdf"],
    ] {
        let output = run(arguments);
        assert_eq!(output.status.code(), Some(2), "{arguments:?}: {output:?}");
        assert_eq!(out(&output), "");
        assert!(complaint(&output).contains("--help"), "{arguments:?}: {output:?}");
    }
    assert!(run(&["--help"]).status.success());
    assert!(out(&run(&["--version"])).starts_with("lapwise "));
}

#[test]
fn plan_prints_text_or_json() {
    let site = "tests/plans/allotment-shed/site.toml";
    let text = run(&["plan", site]);
    assert!(text.status.success() && out(&text).contains("What to buy"), "{text:?}");
    let plan = run(&["plan", site, "--as", "json"]);
    let plan: Value = serde_json::from_str(out(&plan)).expect("JSON");
    let slope = &plan["slopes"][0];
    // The worked example of the trade: 12 mm boards at 25 degrees.
    assert_eq!(slope["support"], "purlins over deck");
    assert_eq!((&slope["end_lap_mm"], &slope["side_lap_corrugations"]), (&170.into(), &1.into()));
    assert_eq!(slope["max_purlin_spacing_mm"], 610);
}

#[test]
fn a_refused_plan_ends_with_2() {
    let site = "tests/plans/cold-frame-too-flat/site.toml";
    let output = run(&["plan", site, "--as", "json"]);
    assert_eq!(output.status.code(), Some(2), "{output:?}");
    let refused: Value = serde_json::from_str(out(&output)).expect("JSON");
    assert!(
        refused["refused"][0]["id"].is_string() && refused["refused"][0]["text"].is_string(),
        "{refused}"
    );
    assert_eq!(run(&["plan", site]).status.code(), Some(2));
}

#[test]
fn a_site_file_that_will_not_do_is_named_with_its_line() {
    fails(&run(&["plan", "no/such/site.toml"]), &["no/such/site.toml"]);
    let dir = tempfile::tempdir().expect("a directory");
    fails(&run(&["plan", &dir.path().display().to_string()]), &["cannot read"]);
    // A file without an end is not read to it, and one that is far too long is not repeated.
    fails(&run(&["plan", "/dev/zero"]), &["more than 100000 bytes"]);
    let long = dir.path().join("long.toml");
    std::fs::write(&long, format!("eaves_length = \"{}\"\n", "x".repeat(90_000))).expect("written");
    let output = run(&["plan", &long.display().to_string()]);
    fails(&output, &["eaves_length"]);
    assert!(output.stderr.len() < 2_000, "{} bytes", output.stderr.len());
    for (text, because) in [
        ("", &["lacks", "covering_now"][..]),
        ("form = \"two_slopes\"\n", &["lacks"]),
        ("\ncolour = \"red\"\n", &["line 2", "colour"]),
        ("pitch = 61\n", &["line 1", "pitch"]),
        ("form = \n", &["line 1"]),
        ("pitch = 22\npitch = 23\n", &["line 2"]),
    ] {
        let path = dir.path().join("site.toml");
        fs::write(&path, text).expect("written");
        fails(&run(&["plan", &path.display().to_string()]), because);
    }
    fs::write(dir.path().join("site.toml"), b"form = \"\xff\"").expect("written");
    fails(&run(&["plan", &dir.path().join("site.toml").display().to_string()]), &["cannot read"]);
}

#[test]
fn schema_and_book_print_what_there_is() {
    let schemas: Value = serde_json::from_str(out(&run(&["schema"]))).expect("JSON");
    assert!(schemas["site"].is_object() && schemas["plan"].is_object());
    assert!(out(&run(&["book"])).contains("fennick-sheet-2000") || out(&run(&["book"])).contains("Fennick"));
}

fn copy_folder(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder");
    for entry in fs::read_dir(from).expect("a folder") {
        let entry = entry.expect("an entry");
        let copy = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy_folder(&entry.path(), &copy);
        } else {
            fs::copy(entry.path(), copy).expect("copied");
        }
    }
}

#[test]
fn a_broken_book_never_starts_anything() {
    let dir = tempfile::tempdir().expect("a directory");
    let book = dir.path().join("book");
    copy_folder(Path::new("dialogs"), &book);
    let named = book.display().to_string();
    let whole = run(&["book", "--book", &named]);
    assert!(whole.status.success(), "{whole:?}");
    fs::write(book.join("rules/slope.toml"), "[[rule]]\nid = \"flat\"\n").expect("written");
    let data = dir.path().join("data").display().to_string();
    for arguments in [&["book", "--book", &named][..], &["chat", "--pipe", "--data", &data, "--book", &named]]
    {
        fails(&run(arguments), &["fault", "rules/slope.toml"]);
    }
    assert!(!Path::new(&data).exists(), "nothing is begun with a broken book");
    fails(&run(&["book", "--book", "no/such/book"]), &["no/such/book"]);
}

fn chat(data: &Path) -> Output {
    let mut command = lapwise(&["chat", "--pipe", "--data"]);
    command.arg(data).output().expect("it runs")
}

#[test]
fn a_place_that_is_not_ours_is_left_alone() {
    let dir = tempfile::tempdir().expect("a directory");
    let file = dir.path().join("letter.txt");
    fs::write(&file, "Dear Aunt").expect("written");
    fails(&chat(&file), &["letter.txt"]);
    assert_eq!(fs::read(&file).expect("still there"), b"Dear Aunt");

    let photos = dir.path().join("photos");
    fs::create_dir(&photos).expect("a folder");
    fs::write(photos.join("roof.jpg"), "not really").expect("written");
    fails(&chat(&photos), &["photos"]);
    let left: Vec<_> =
        fs::read_dir(&photos).expect("a folder").map(|entry| entry.expect("one").file_name()).collect();
    assert_eq!(left, ["roof.jpg"], "nothing is added to a foreign folder");

    // Not even root writes below /proc.
    fails(&chat(Path::new("/proc/lapwise")), &["/proc/lapwise"]);
    fails(&run(&["chat", "--pipe", "--chat", "", "--data", &photos.display().to_string()]), &[]);
}

#[test]
fn a_reader_that_goes_away_is_no_fault() {
    let mut child =
        lapwise(&["schema"]).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().expect("it starts");
    // Closed before a byte is read.
    drop(child.stdout.take());
    let mut said = String::new();
    child.stderr.take().expect("piped").read_to_string(&mut said).expect("text");
    assert!(child.wait().expect("it ends").success(), "{said}");
    assert_eq!(said, "");
}

/// What is piped on is read by programs and by those who listen: words, unless somebody asks for more.
#[cfg(feature = "png")]
#[test]
fn a_picture_is_said_where_nobody_looks() {
    let shed = "It's felt on 12mm boards, one slope of 25 degrees, 2.4m long, 1.8m up the slope\n\
                felt\nsound\nnone\n600\nno\nnone\nleft\nno\ndemo\n";
    let shown = |pictures: &str| {
        let data = tempfile::tempdir().expect("a folder");
        let input = data.path().join("typed.txt");
        fs::write(&input, shed).expect("written");
        let mut command = lapwise(&["chat", "--pictures", pictures, "--data"]);
        command.arg(data.path().join("data")).stdin(fs::File::open(&input).expect("read"));
        let output = command.output().expect("it runs");
        assert!(output.status.success(), "{output:?}");
        out(&output).to_owned()
    };
    let said = shown("auto");
    assert!(said.contains("A roof with one slope.") && said.contains("whole-roof.png"), "{said}");
    assert!(!said.contains('\u{1b}') && !said.contains("whole-roof.svg"), "{said}");
    let drawn = shown("blocks");
    assert!(drawn.contains("\u{1b}[38;5;") && drawn.contains("Left verge"), "{drawn}");
    assert!(shown("sixel").contains("\u{1b}Pq\"1;1;640;"));
}
