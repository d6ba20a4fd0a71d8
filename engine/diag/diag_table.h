/* DIAG_ROW(id, word, level, wording, explanation): every diagnostic there is. {0}, {1}, ... are filled with the words given where
 * it is raised. The wording says what is wrong, with the offending word quoted, then what is allowed. Read with DIAG_ROW defined. */

/* reading YAML */
DIAG_ROW(FILE_UNREADABLE, "file-unreadable", DIAG_ERROR, "cannot read '{0}': {1}",
         "The file or directory could not be opened or read. Check its name and permissions.")
DIAG_ROW(FILE_TOO_LARGE, "file-too-large", DIAG_ERROR, "'{0}' is larger than {1} bytes",
         "A knowledge or case file has a size limit, so that a wrong file cannot fill the memory.")
DIAG_ROW(FILE_IGNORED, "file-ignored", DIAG_WARNING, "'{0}' is not read: {1}",
         "Knowledge is read from files whose names end in .yaml, below rules/ and kb/ where a directory has either. What stands elsewhere counts for nothing, as if it were not there.")
DIAG_ROW(YAML_SYNTAX, "yaml-syntax", DIAG_ERROR, "this is not YAML: {0}",
         "The YAML reader stopped here. Look at indentation, quotes and colons on this line and the one before.")
DIAG_ROW(YAML_ENCODING, "yaml-encoding", DIAG_ERROR, "{0} is not allowed in the text; write plain UTF-8",
         "Bytes that are not UTF-8, control characters and characters that reorder text are refused, because they can hide what a rule says.")
DIAG_ROW(YAML_DEPTH, "yaml-depth", DIAG_ERROR, "nested deeper than {0} levels",
         "No rule needs such depth; the limit keeps hostile files from using up time and memory.")
DIAG_ROW(YAML_VALUES, "yaml-values", DIAG_ERROR, "more than {0} values in one file",
         "No file of rules needs so many; the limit keeps hostile files from filling the memory.")
DIAG_ROW(YAML_ALIAS, "yaml-alias", DIAG_ERROR, "{0} are not part of the rule language; write the text out",
         "Anchors and aliases (& and *) and tags (!) are refused: each entry says in its own place what it means.")
DIAG_ROW(YAML_DOCUMENTS, "yaml-documents", DIAG_ERROR, "a second document starts here; a file holds one",
         "A line of three dashes starts a second YAML document. Put its entries into the same list or another file.")
DIAG_ROW(YAML_DUPLICATE_KEY, "duplicate-key", DIAG_ERROR, "key '{0}' stands twice in one mapping",
         "The second value would silently replace the first, so both are refused.")
DIAG_ROW(YAML_KEY, "yaml-key", DIAG_ERROR, "a key is one word, not {0}",
         "Keys of mappings must be plain words.")
DIAG_ROW(NO_MEMORY, "no-memory", DIAG_ERROR, "out of memory",
         "The memory the program may use is used up.")
DIAG_ROW(TOO_MANY, "too-many-errors", DIAG_NOTE, "{0} more errors are not shown",
         "Only the first 50 errors are kept; mend those and check again.")

/* the shape of entries */
DIAG_ROW(NOT_ENTRIES, "not-entries", DIAG_ERROR, "a knowledge file is a list of entries such as '- rule: name'; this is {0}",
         "Start each entry with a dash, its kind and its name: - rule: name")
DIAG_ROW(UNKNOWN_ENTRY, "unknown-entry", DIAG_ERROR, "'{0}' is no kind of entry; known are {1}",
         "The first key of an entry says what it is.")
DIAG_ROW(HELD_BACK, "held-back", DIAG_NOTE, "{0} about names that stand where reading failed {1} held back; mend the errors above and check again",
         "A file or an entry could not be read, so the names in it are missing everywhere else. Errors that only say so would bury the one that matters.")
DIAG_ROW(FORMAT_NEWER, "format-newer", DIAG_ERROR, "this knowledge is of rule format {0}, and this program is older: it knows up to {1}; use a newer program",
         "A file may name the version of the rule language it is written in. A program that is older would misread it, so it reads none of it.")
DIAG_ROW(FORMAT_PLACE, "format-place", DIAG_ERROR, "'format' stands alone in the first entry of a file",
         "The version of the rule language is said once, before anything else: - format: 1")
DIAG_ROW(UNKNOWN_KEY, "unknown-key", DIAG_ERROR, "{0} has no key '{1}'; its keys are {2}",
         "A misspelt key would be lost silently, so it is refused.")
DIAG_ROW(MISSING_KEY, "missing-key", DIAG_ERROR, "{0} '{1}' has no '{2}'",
         "This key is required.")
DIAG_ROW(WRONG_SHAPE, "wrong-shape", DIAG_ERROR, "'{0}' takes {1}, not {2}",
         "The value has another shape than the key needs.")
DIAG_ROW(WRONG_ELEMENT, "wrong-element", DIAG_ERROR, "each element of this list is {0}, not {1}",
         "The element of a list has another shape than the list needs.")
DIAG_ROW(BAD_NAME, "bad-name", DIAG_ERROR, "'{0}' is not a name; use lower-case letters, {1}",
         "Names are lower case so that they can be typed and never differ by case alone.")
DIAG_ROW(RESERVED_NAME, "reserved-name", DIAG_ERROR, "'{0}' is a word of the language itself; give the {1} another name",
         "Conditions, cases and texts would read the name as something else: all, any, none, formula, left, right, hits, of, seen; for a source practice and memory.")
DIAG_ROW(DUPLICATE_NAME, "duplicate-name", DIAG_ERROR, "the name '{0}' is taken by {1}",
         "One name means one thing: evidence, findings, causes and drills share one space of names, other names understood included. An overlay that means to replace says so.")
DIAG_ROW(REPLACES_NOTHING, "replaces-nothing", DIAG_ERROR, "there is no {0} '{1}' beneath to replace",
         "'replaces' must name an entry of a lower layer.")
DIAG_ROW(RED_FLAG_GUARDED, "red-flag-guarded", DIAG_ERROR, "{0} '{1}' {2} the red flag '{3}', which a layer above may not do",
         "A red flag keeps a player in pain, or a place that is not safe, from being given a drill. A layer above may raise it for more reasons and word it anew; it may not take it away.")
DIAG_ROW(REPLACES_OTHER, "replaces-other", DIAG_ERROR, "'{0}' can only replace itself; write 'replaces: {0}', or leave it out",
         "An entry of an overlay takes the place of the entry of the same name beneath it.")
DIAG_ROW(UNKNOWN_NAME, "unknown-name", DIAG_ERROR, "there is no {0} '{1}'",
         "The name is not in the vocabulary.")
DIAG_ROW(UNKNOWN_WORD, "unknown-word", DIAG_ERROR, "'{0}' is no {1}; allowed are {2}",
         "The value must be one of the listed words.")
DIAG_ROW(NO_COUNTERPART, "no-counterpart", DIAG_ERROR, "value '{0}' has no counterpart '{1}' for a left-handed player",
         "A value named after one side needs the same value of the other side, so that a case can be mirrored.")
DIAG_ROW(TEXT_SIDE, "text-side", DIAG_ERROR, "a text says '{0}'; write {{0}}, so that a left-handed player reads the correct side",
         "Texts are mirrored for left-handed players; a bare side word could not be.")
DIAG_ROW(TEXT_BRACE, "text-brace", DIAG_ERROR, "'{' without its '}' in a text",
         "Braces hold a name whose value is put in.")
DIAG_ROW(TEXT_BRACE_END, "text-brace-end", DIAG_ERROR, "'}' without its '{' in a text",
         "Braces hold a name whose value is put in.")
DIAG_ROW(TITLE_SIDE, "title-side", DIAG_ERROR, "'{0}' has no place in the title of {1}, which every player is shown as it stands",
         "Titles of evidence and clubs are not mirrored for left-handed players and have no values put in, so they name no side.")
DIAG_ROW(TWO_CLUBS, "two-club-evidences", DIAG_ERROR, "'{0}' is a second evidence of kind club; there is '{1}' already",
         "Exactly one evidence names the club.")

/* numbers, units, formulas */
DIAG_ROW(BAD_NUMBER, "bad-number", DIAG_ERROR, "'{0}' is not a number{1}",
         "Write a decimal number, with a unit where needed: -6, 88 mph, 12 +/- 2 mm.")
DIAG_ROW(BAD_UNIT, "bad-unit", DIAG_ERROR, "unit '{0}' does not fit '{1}'; use {2}",
         "The unit must measure the same kind of quantity.")
DIAG_ROW(UNKNOWN_UNIT, "unknown-unit", DIAG_ERROR, "there is no unit '{0}'; use {1}",
         "The unit is not known.")
DIAG_ROW(OUT_OF_RANGE, "out-of-range", DIAG_ERROR, "{0} is outside the plausible range of '{1}', {2} to {3}",
         "A value outside the plausible range is most often a slip of sign, unit or decimal point.")
DIAG_ROW(BAD_RANGE, "bad-range", DIAG_ERROR, "range from {0} to {1} is empty",
         "The lower end must be below the upper end.")
DIAG_ROW(BAD_ERROR, "bad-error", DIAG_ERROR, "'{0}' is no error; write a number, 0 or more",
         "The error is one standard deviation of one reading.")
DIAG_ROW(BAD_HITS, "bad-hits", DIAG_ERROR, "{0} hits of {1} shots cannot be",
         "A drill that works says in how many of how many shots; the hits cannot be more than the shots.")
DIAG_ROW(FORMULA_SYNTAX, "formula-syntax", DIAG_ERROR, "formula: {0}",
         "Formulas have numbers, names, + - * / ( ), commas and functions.")
DIAG_ROW(FORMULA_NAME, "formula-name", DIAG_ERROR, "formula: there is no evidence or function '{0}'",
         "Only number evidence and the listed functions may be named.")
DIAG_ROW(FORMULA_KIND, "formula-kind", DIAG_ERROR, "formula: '{0}' is {1}, and only numbers can be reckoned with",
         "A formula reckons with number evidence.")
DIAG_ROW(FORMULA_ARITY, "formula-arity", DIAG_ERROR, "formula: '{0}' takes {1}, not {2}",
         "The function needs another count of values.")
DIAG_ROW(FORMULA_COMPARISON, "formula-comparison", DIAG_ERROR, "formula: {0}",
         "A condition's formula is one comparison; an evidence's formula has none.")
DIAG_ROW(BAD_PATTERN, "bad-pattern", DIAG_ERROR, "pattern: {0}",
         "The regular expression is faulty.")

/* rules */
DIAG_ROW(BAD_CONDITION, "bad-condition", DIAG_ERROR, "'{0}' does not fit '{1}', which is {2}; use {3}",
         "Each kind of evidence has its own comparisons.")
DIAG_ROW(CONDITION_DEPTH, "condition-depth", DIAG_ERROR, "conditions nested deeper than {0}",
         "all, any and none can be nested up to this depth; make a finding of the inner part.")
DIAG_ROW(EMPTY_CONDITION, "empty-condition", DIAG_ERROR, "'{0}' holds no condition",
         "An empty list would always or never hold.")
DIAG_ROW(BAD_STRENGTH, "bad-strength", DIAG_ERROR, "'{0}' is no strength; use a number from -0.95 to 0.95 but not 0, or {1}; a minus speaks against",
         "Strengths are limited so that no single rule decides alone.")
DIAG_ROW(RULE_WITHOUT_EFFECT, "rule-without-effect", DIAG_ERROR, "rule '{0}' has neither 'then' nor 'removes'",
         "A rule must conclude something.")
DIAG_ROW(CIRCLE, "circle", DIAG_ERROR, "the rules go round in a circle: {0}",
         "A layer must be final before the next reads it, so nothing may depend on itself.")
DIAG_ROW(BAD_EFFECT, "bad-effect", DIAG_ERROR, "effect '{0}' is not a number above 0, at most 0.95",
         "How well a drill changes a cause.")
DIAG_ROW(DRILL_WITHOUT_CAUTION, "drill-without-caution", DIAG_ERROR, "drill '{0}' has no caution",
         "Every drill says how to do it safely.")
DIAG_ROW(ACCEPTED_LINE, "accepted-line", DIAG_ERROR, "'{0}' does not start an accepted answer; a line is 'case: answer'",
         "A file of accepted answers holds the lines that 'whymiss cases --answers --brief' writes, one for each worked case.")
DIAG_ROW(ACCEPTED_TWICE, "accepted-twice", DIAG_ERROR, "an answer of case '{0}' is accepted above already",
         "A worked case has one accepted answer; with two, nobody knows which one holds.")
DIAG_ROW(CASE_NOT_ALLOWED, "case-expects", DIAG_ERROR, "case '{0}' expects '{1}', which is {2}; '{3}' names {4}",
         "'leading' names a cause or none, 'drill' a drill or none, 'believed' and 'not_believed' findings or causes.")

/* cases and the command line */
DIAG_ROW(BAD_EVIDENCE, "bad-evidence", DIAG_ERROR, "'{0}' is not evidence; write name=value, such as path=-5",
         "Each argument gives one evidence.")
DIAG_ROW(TWICE_GIVEN, "twice-given", DIAG_ERROR, "'{0}' is given twice",
         "Give each evidence once; for several shots give the mean and how many shots it stands for.")
DIAG_ROW(WRONG_KIND, "wrong-kind", DIAG_ERROR, "'{0}' is {1}; {2}",
         "The value does not fit the kind of evidence.")
DIAG_ROW(BAD_SHOTS, "bad-shots", DIAG_ERROR, "'{0}' is not a count of shots from 1 to 10000",
         "How many shots a value stands for.")
DIAG_ROW(BAD_HAND, "bad-hand", DIAG_ERROR, "'{0}' is no hand; use left or right",
         "The hand the player plays with.")
DIAG_ROW(CONTRADICTION, "contradiction", DIAG_WARNING, "{0}, by {1}",
         "Given values disagree by more than three standard errors. All are used as given; check the readings.")
DIAG_ROW(NO_FLIGHT, "no-flight", DIAG_ERROR, "no flight follows from these numbers: {0}",
         "A path or a picture needs a flight: a ball speed, a launch and a spin, given or following from club and club speed.")
DIAG_ROW(PATTERN_LIMIT, "pattern-limit", DIAG_WARNING, "the pattern of rule '{0}' gave up on this text; its condition is taken as not known",
         "The pattern needs too many steps. Simplify it.")

/* tables of shots */
DIAG_ROW(TABLE_FAULTY, "table-faulty", DIAG_ERROR, "this table cannot be read: {0}",
         "A table is UTF-8 text, a row a line, cells parted by commas, semicolons or tabs; a cell with a delimiter, a quote or a line break in it stands in quotes.")
DIAG_ROW(NO_HEADER, "no-header", DIAG_ERROR, "none of the first {0} rows names columns that are understood",
         "The columns need names in trade words, such as club path, face angle, ball speed (mph), carry (m). The entries 'column' of the knowledge say which.")
DIAG_ROW(NO_READINGS, "no-readings", DIAG_ERROR, "there is no shot with a reading in this table",
         "A table needs at least one row with a reading in a column that is understood.")
DIAG_ROW(COLUMN_SKIPPED, "column-skipped", DIAG_WARNING, "column '{0}' is left out: {1}",
         "The column's name is understood, but its numbers cannot be used as they stand.")
DIAG_ROW(BAD_CELL, "bad-cell", DIAG_WARNING, "'{0}' in column '{1}' is left out: {2}",
         "A cell that cannot be understood is taken as not known; the rest of its row counts.")
DIAG_ROW(RAGGED_ROW, "ragged-row", DIAG_WARNING, "cells in this row: {0}, in the header: {1}; {2}",
         "Rows should have as many cells as the header. Cells that are missing are taken as not known.")
DIAG_ROW(MORE_CELLS, "more-cells", DIAG_NOTE, "{0} more faults of cells and rows are not shown",
         "Only the first faults of a table are shown one by one; all are counted.")
DIAG_ROW(BAD_WINDOW, "bad-window", DIAG_ERROR, "'{0}' is no window; write {1}",
         "The target window is one of the knowledge, or half its width in degrees as seen from the ball.")

DIAG_ROW(PHRASE_LIMIT, "phrase-limit", DIAG_WARNING, "the pattern of phrase '{0}' gave up on these words; it is left out",
         "The pattern needs too many steps. Simplify it.")
DIAG_ROW(SAID_TOO_LONG, "said-too-long", DIAG_ERROR, "the words are longer than {0} bytes",
         "Say it in fewer words; the limit keeps hostile text from using up time.")
DIAG_ROW(SAID_HAND, "said-hand", DIAG_WARNING, "the words say that the player plays {0}-handed, but {1} was given; {1} is used",
         "Left and right mean the opposite for the other hand, so this decides everything.")

/* the lesson log */
DIAG_ROW(LOG_HEAD, "log-head", DIAG_ERROR, "this is no lesson log: its first entry must say 'log' and 'format'",
         "A lesson log is a list whose first entry names the player and the number of its format.")
DIAG_ROW(LOG_FORMAT, "log-format", DIAG_ERROR, "the log is of format {0}, and this program knows up to {1}; use a newer program",
         "A newer program wrote this log. Nothing is changed in it, because something could be lost.")
DIAG_ROW(LOG_PLAYER, "log-player", DIAG_ERROR, "'{0}' cannot name a log; use lower-case letters, digits and single hyphens, at most 40",
         "The name becomes the name of a file. Better a made-up name than the player's own.")
DIAG_ROW(LOG_DATE, "log-date", DIAG_ERROR, "'{0}' is no date; write 2026-05-30 or 2026-05-30T16:20",
         "The date of the lesson: year, month, day, and the time if it matters.")
DIAG_ROW(LOG_LOCKED, "log-locked", DIAG_ERROR, "another program is writing to the log of '{0}'",
         "Only one program at a time may change a log. Try again when the other is done.")
DIAG_ROW(LOG_MISSING, "log-missing", DIAG_ERROR, "there is no log of '{0}' in '{1}'",
         "No lessons of this player are kept there.")
DIAG_ROW(FILE_UNWRITABLE, "file-unwritable", DIAG_ERROR, "cannot write '{0}': {1}",
         "The file could not be written; what stood there before is untouched.")

/* tidy and new */
DIAG_ROW(TIDY_UNSAFE, "tidy-unsafe", DIAG_ERROR, "this file is left as it is: {0}",
         "tidy changes the layout alone. Where it cannot lay out a file so that the file says the same and keeps its comments, it refuses.")
DIAG_ROW(DIRECTORY_FILLED, "directory-filled", DIAG_ERROR, "'{0}' is not empty; name a new directory",
         "'new kb' makes a directory of its own, so that it cannot mix with what stands there.")

/* findings of `check` */
DIAG_ROW(SHARED_READINGS, "shared-readings", DIAG_WARNING, "rules '{0}' and '{1}' both conclude '{2}' from the same readings ({3}); put them in one group",
         "Two rules that rest on the same reading are not independent; added up they would count one fact twice.")
DIAG_ROW(PHRASE_EXAMPLE, "phrase-example", DIAG_WARNING, "phrase '{0}' is not understood in its own example \"{1}\"",
         "Each example under 'such_as' has to be understood as the phrase says.")
DIAG_ROW(NO_SOURCE, "no-source", DIAG_WARNING, "{0} '{1}' names no source",
         "Say where it comes from: a key of sources, practice, or memory.")
DIAG_ROW(UNUSED, "unused", DIAG_WARNING, "{0} '{1}' is read by nothing",
         "Nothing depends on it: no rule, formula, need or measure reads it.")
DIAG_ROW(UNREACHABLE, "unreachable", DIAG_WARNING, "{0} '{1}' can never {2}: {3}",
         "A finding or cause is believed through rules that can fire and are strong enough; a drill is offered for a cause that can be believed, with its needs met, and no rule taking it away. Here that never happens.")
DIAG_ROW(CAUSE_WITHOUT_DRILL, "cause-without-drill", DIAG_WARNING, "no drill changes cause '{0}'",
         "A player with this cause would get no exercise.")
DIAG_ROW(DRILL_WITHOUT_CAUSE, "drill-without-cause", DIAG_WARNING, "drill '{0}' changes no cause",
         "It can never be chosen.")
DIAG_ROW(NEVER_FIRES, "never-fires", DIAG_WARNING, "rule '{0}' can never fire: {1}",
         "Its conditions exclude each other, directly or through all rules by which a finding it reads can be believed; or a reading would have to lie outside its plausible range. Readings are taken to be no worse than the intervals are wide.")
DIAG_ROW(NEVER_SO_SURE, "never-so-sure", DIAG_WARNING, "{0} '{1}' never gets surer than {2}, so 'believed: {3}' never holds",
         "With every rule for it firing at its best and none against it, the certainty stays below what is asked.")
DIAG_ROW(WITHIN_ERROR, "within-error", DIAG_WARNING, "'{0}' is too narrow for a reading with the usual error of {1}, so rule '{2}' cannot rest on one",
         "A condition on a number is believed 2p - 1, p being the probability that the true value lies inside. From the middle of an interval narrower than half the reading's error that never gets above 0.2.")
DIAG_ROW(COVERED, "covered", DIAG_WARNING, "on '{2}' rule '{0}' adds nothing of its own: wherever it fires, rule '{1}' says at least as much; {3}",
         "The other rule has the same conclusion, of the same sign and no less strength, under conditions at least as wide. In one group only the stronger counts, so this rule has no effect there; without a common group one fact counts twice. Where findings lie between the two, that holds but for premises that only just fire.")
DIAG_ROW(CONTRADICTS, "contradicts", DIAG_WARNING, "rules '{0}' and '{1}' say the opposite on '{2}' under the same conditions",
         "Whenever one fires the other does too, and they take each other back. One of the two signs is likely a slip.")
DIAG_ROW(CAUSE_WITHOUT_AGAINST, "cause-without-against", DIAG_WARNING, "no rule speaks against cause '{0}'",
         "A cause that no evidence can weaken is never ruled out.")
DIAG_ROW(ONE_KIND, "one-kind", DIAG_WARNING, "all that speaks for cause '{0}' is {1}: {2}",
         "Evidence is what the player knows, what is looked at on the spot, what a video shows, what a device measures. A cause seen in one way only cannot be confirmed in another.")
DIAG_ROW(DRILL_WITHOUT_NUMBER, "drill-without-number", DIAG_WARNING, "drill '{0}' has no number that says it worked, only what is seen",
         "'works' should hold one comparison on an evidence that can be measured or counted.")
DIAG_ROW(SHORT_CAUTION, "short-caution", DIAG_WARNING, "caution '{0}' of drill '{1}' tells nobody what to do; write it out",
         "A caution is read by somebody who is about to swing: it says in words what to clear, check or stop. A list in [ ] is parted at every comma, so a caution with a comma in it stands in quotes or behind a dash.")
DIAG_ROW(GAP_FINDING, "gap-finding", DIAG_WARNING, "gap {0}, {1} % of plausible impacts: of {2} no finding is believed",
         "Plausible impacts are drawn with a seed, flown, and chained with all their numbers, with the ball's alone, and with what the eye sees. In these the flight ends far off the line or much too short, and the knowledge has no word for it.")
DIAG_ROW(GAP_CAUSE, "gap-cause", DIAG_WARNING, "gap {0}, {1} % of plausible impacts: for {2} '{3}' is believed, and no cause above 0.2",
         "Plausible impacts are drawn with a seed, flown, and chained with all their numbers, with the ball's alone, and with what the eye sees. In these the flight ends far off the line or much too short, something is found, and no cause follows from it.")
DIAG_ROW(NUMBER_IN_TEXT, "number-in-text", DIAG_WARNING, "the text says {0}, which no condition of rule '{1}' holds",
         "A number typed into a text does not follow the rule when its thresholds change. Name the evidence in braces, or take the number out.")
DIAG_ROW(STRENGTH_OFF_TABLE, "strength-off-table", DIAG_NOTE, "{0} strengths in this file are none of the words hint, suggests, points, strong, near_certain; the first stands here",
         "Other numbers than 0.2, 0.4, 0.6, 0.8 and 0.95 are allowed. They claim a finer judgement than the words, so there should be a reason. Accepted in any of the rules concerned.")
DIAG_ROW(SLOW_PATTERN, "slow-pattern", DIAG_WARNING, "a pattern of {0} '{1}' {2}",
         "A repeat inside a repeat, or several in a row that match the same letters, can need very many steps. A match that takes too many is given up and its condition is not known, so such a pattern can be made useless by a text.")
DIAG_ROW(NO_CASE_FOUND, "no-case-found", DIAG_NOTE, "no case was found in which rule '{0}' fires",
         "Nothing forbids it, but of the candidates tried none made it fire: other rules speak against what it reads. Found only with --thorough.")
DIAG_ROW(DRILL_NEVER_FIRST, "drill-never-first", DIAG_NOTE, "drill '{0}' came first in no case tried",
         "Neither the worked cases nor sampled impacts nor cases made for its causes, without what the drills before it need, put it first. It may still be right as a fall-back. Found only with --thorough.")
DIAG_ROW(ACCEPT_UNUSED, "accept-unused", DIAG_WARNING, "nothing is left to accept as '{0}' here",
         "The acceptance matches no finding of check. What it excused has been mended; take it out, so that it cannot hide the next one.")
