// SPDX-License-Identifier: Apache-2.0
/**
 * Files written whole or not at all, and files with a laboratory's signature. Read {@link
 * millrace.document.file.AtomicFile} first. Knows nothing of what is in them. One thread per file.
 */
@NullMarked
package millrace.document.file;

import org.jspecify.annotations.NullMarked;
