//! Prints the parts of the repository that are generated from the table of keys:
//! `cargo run -p engine --example engine_file_docs -- page > docs/engine-file.md.new` and
//! `... -- schema > schema/engine.schema.json`.

fn main() {
    match std::env::args().nth(1).as_deref() {
        Some("page") => print!("{}", page()),
        Some("schema") => println!("{:#}", engine::file::schema()),
        _ => eprintln!("say what to print: page or schema"),
    }
}

/// The page on the engine file with its tables written anew.
fn page() -> String {
    let page = include_str!("../../../docs/engine-file.md");
    let (begin, end) = ("<!-- keys: begin -->\n", "<!-- keys: end -->");
    let (Some((before, rest)), tables) = (page.split_once(begin), engine::file::reference_markdown()) else {
        return page.to_owned();
    };
    let after = rest.split_once(end).map_or("", |(_, after)| after);
    format!("{before}{begin}\n{tables}\n{end}{after}")
}
