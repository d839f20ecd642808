//! Small disks of our own, where this process may mount them.

#![allow(dead_code, clippy::unwrap_used, reason = "only tests build with this, each with its own part")]

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use tempfile::TempDir;

/// A file system that is unmounted when this is dropped.
pub(crate) struct Disk {
    at: PathBuf,
    _dir: TempDir,
}

fn works(command: &mut Command) -> bool {
    command.stdout(Stdio::null()).stderr(Stdio::null()).status().is_ok_and(|status| status.success())
}

impl Disk {
    /// A tmpfs of so many megabytes; `None` where we may not mount.
    pub(crate) fn tmpfs(megabytes: u32) -> Option<Self> {
        let (dir, at) = place();
        let size = format!("size={megabytes}m");
        works(Command::new("mount").args(["-t", "tmpfs", "-o", &size, "none"]).arg(&at))
            .then_some(Self { at, _dir: dir })
    }

    /// An ext4 of so many megabytes in a file; `None` where we may not mount.
    pub(crate) fn ext4(megabytes: u32) -> Option<Self> {
        let (dir, at) = place();
        let image = dir.path().join("image");
        std::fs::File::create(&image).unwrap().set_len(u64::from(megabytes) << 20).unwrap();
        let made = works(Command::new("mkfs.ext4").args(["-q", "-F"]).arg(&image))
            && works(Command::new("mount").args(["-o", "loop"]).arg(&image).arg(&at));
        made.then_some(Self { at, _dir: dir })
    }

    pub(crate) fn path(&self) -> &Path {
        &self.at
    }
}

/// Takes every byte that is left on a disk, as fast as it gives them away.
pub(crate) fn fill_up(path: &Path) {
    let file = std::fs::File::create(path).unwrap();
    let (mut at, mut size) = (0, 1 << 30);
    while size > 0 {
        match rustix::fs::fallocate(&file, rustix::fs::FallocateFlags::empty(), at, size) {
            Ok(()) => at += size,
            Err(_) => size /= 2,
        }
    }
    let _ = file.sync_all();
}

fn place() -> (TempDir, PathBuf) {
    let dir = tempfile::tempdir().unwrap();
    let at = dir.path().join("disk");
    std::fs::create_dir(&at).unwrap();
    (dir, at)
}

impl Drop for Disk {
    fn drop(&mut self) {
        // Lazily: a process that was killed may hold it a moment longer.
        works(Command::new("umount").arg("-l").arg(&self.at));
    }
}
