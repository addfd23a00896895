/**
 * First drafts of files, from a few questions to a person. Read {@link
 * millrace.cli.draft.Interview} first; each draft is a function from answers to text. Knows the
 * rooms whose files it drafts; knows nothing of commands and exit codes. Single-threaded.
 */
@NullMarked
package millrace.cli.draft;

import org.jspecify.annotations.NullMarked;
