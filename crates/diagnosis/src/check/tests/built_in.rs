//! The built-in file, read with the reader of users' files.

use crate::check::Checks;

#[test]
fn exact_the_built_in_file_has_no_problem() {
    if let Err(problems) = Checks::read(crate::check::checks::BUILT_IN) {
        let list: Vec<String> = problems.iter().map(ToString::to_string).collect();
        panic!("{}", list.join("\n"));
    }
}
