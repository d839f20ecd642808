//! The shipped topics.

use lapwise::book::topics::read_topics;
use lapwise::conversation::understanding::Understander;

/// An understander of the shipped topics.
pub fn understander() -> Understander {
    let dir = super::root().join("dialogs/topics");
    let mut files: Vec<(String, String)> = std::fs::read_dir(dir)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            (
                path.file_name().unwrap().to_string_lossy().into_owned(),
                std::fs::read_to_string(&path).unwrap(),
            )
        })
        .collect();
    files.sort();
    let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    read_topics(&files).unwrap()
}
