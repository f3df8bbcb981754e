//! What the help says beside the arguments: first steps, and examples of every command.

/// Said when the command line is empty.
pub(super) const FIRST_STEPS: &str = "\
loamwright prices raised garden beds from a workbook or CSV files.

First get a workbook with a small example in it, and type your own job over it:

  loamwright start job.xlsx

Then see whether it reads, and price it:

  loamwright check job.xlsx
  loamwright job.xlsx

A workbook of your own does as well: it needs a sheet named Beds, or a file
Beds.csv, with a row for each bed, and Prices when you have them:

  Bed,Count,Length (ft),Width (ft),Height (in),Frame,Fill
  North row,3,8,4,18.5,2x10,Topsoil

More: loamwright --help
";

pub(super) const EXAMPLES: &str = "\
Examples:
  loamwright start job.xlsx               a new job file with an example in it
  loamwright job.xlsx                     price the job, outputs beside it
  loamwright estimate job/ --out quote    CSV files; outputs in quote
  loamwright check job.xlsx               tell every problem, write nothing
  loamwright ranges job.xlsx              how far cost and price may lie
  loamwright stretch job.xlsx --budget 9000
                                          how many beds the money builds
  loamwright --beds b.csv --prices p.csv  two CSV files
  loamwright estimate - < beds.csv        beds from standard input

Exit codes:
  0   done
  1   the input has problems; nothing was written, or only what was asked for
      with --partial or --mark
  2   wrong command line
  70  a bug of ours

Results go to standard output, everything else to standard error.";

pub(super) const ESTIMATE_EXAMPLES: &str = "\
Examples:
  loamwright estimate job.xlsx
  loamwright estimate job.ods --out quote --date 2026-11-24
  loamwright estimate job.xlsx --partial   leave out what has errors
  loamwright estimate job.xlsx --json --quiet > estimate.json
  loamwright estimate job-estimate/estimate.xlsx --out revised --hold
  loamwright estimate job.xlsx --watch

Outputs that you changed, or that this program did not write, stay as they are
unless --force is given. A changed estimate.xlsx can be read back as a job: its
suppliers, packs, vehicles and cuts are chosen anew, and the summary says which
of them moved; with --hold they stay, and its own total comes out. Without --out
that goes beside the folder of the estimate, as job-estimate-2.";

pub(super) const CHANGES_EXAMPLES: &str = "\
Examples:
  loamwright changes job.xlsx job-with-a-path.xlsx
  loamwright changes job-estimate/estimate.xlsx job.xlsx --json
  loamwright changes agreed.xlsx wanted.xlsx --order change-2.txt --number 2

An estimate keeps what it chose, so that its own total is compared. The change
order holds beds and prices with tax, and no cost, wage or supplier.";

pub(super) const CHECK_EXAMPLES: &str = "\
Examples:
  loamwright check job.xlsx
  loamwright check job.xlsx --mark        mark the cells in a copy of it
  loamwright check job/ --strict
  loamwright check job.xlsx --json";

pub(super) const RANGES_EXAMPLES: &str = "\
Examples:
  loamwright ranges job.xlsx
  loamwright ranges job.xlsx --runs 100000 --seed 7
  loamwright ranges job.xlsx --json > ranges.json

Low and High beside a price, a fee, a pay rate, person-hours or the rate of an
extra say how far it may lie; hours that the job leaves to the trade library
take the range that stands there.";

pub(super) const EXPLAIN_EXAMPLES: &str = "\
Examples:
  loamwright explain job.xlsx total
  loamwright explain job.xlsx overhead
  loamwright explain job.xlsx A1 Herb walk
  loamwright explain job.xlsx topsoil --json

Ask about a line of the price, a bed, something that is bought, or a task, by
its name or how its name begins.";

pub(super) const SUPPLIERS_EXAMPLES: &str = "\
Examples:
  loamwright suppliers job.xlsx
  loamwright suppliers job.xlsx --within 5%
  loamwright suppliers job.xlsx --json > suppliers.json

Each supplier is asked for everything that the job needs, with their packs,
steps, least orders, loads and fees; quality is not compared.";

pub(super) const STRETCH_EXAMPLES: &str = "\
Examples:
  loamwright stretch job.xlsx --budget 12500
  loamwright stretch job.xlsx --budget 12,500.00 --json > stretch.json

Beds are built in the order of their column Priority, 1 first; a row with a
Count is so many single beds. Each step prices the whole job with one bed more.";

pub(super) const DEFAULTS_EXAMPLES: &str = "\
Examples:
  loamwright defaults                        what tables there are
  loamwright defaults materials              one at a glance
  loamwright defaults materials compost      its rows in full, with sources
  loamwright defaults --used job.xlsx        what a job takes and overrides
  loamwright defaults --out library.xlsx     all tables, a sheet each

Exported materials and tasks have the titles of the job's own sheets. Change
what you know better, keep the rows that you mean, and paste them into
Materials and Labour of a job, or save them as Materials.csv and Labour.csv.
The other tables are for reading; what takes the place of each figure stands
beside it.";

pub(super) const COMPLETIONS_EXAMPLES: &str = "\
Examples:
  loamwright completions bash > loamwright.bash
  loamwright completions zsh > ~/.zfunc/_loamwright
  loamwright completions fish > ~/.config/fish/completions/loamwright.fish
  loamwright completions powershell >> $PROFILE";

pub(super) const MANUAL_EXAMPLES: &str = "\
Examples:
  loamwright manual | man -l -
  loamwright manual check | man -l -
  loamwright manual --out ~/.local/share/man/man1";
pub(super) const START_EXAMPLES: &str = "\
Examples:
  loamwright start garden.xlsx
  loamwright start garden.xlsx --for grant --units metric
  loamwright start garden --csv

Nothing is ever replaced: pick a name that is not there yet.";
