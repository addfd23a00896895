// SPDX-License-Identifier: Apache-2.0
/**
 * First drafts of files, from a few questions to a person, and the schemas of those files. Read
 * {@link millrace.cli.draft.StarterFileInterview} first; each draft is a function from answers to
 * text. Knows the rooms whose files it drafts. Single-threaded.
 */
@NullMarked
package millrace.cli.draft;

import org.jspecify.annotations.NullMarked;
