// SPDX-License-Identifier: Apache-2.0
/**
 * Files as people write them: YAML and CSV with the place of everything, guards against hostile
 * input, and forms that say what a file may hold, read it, and print it as a JSON Schema. Read
 * {@link millrace.document.Form} first. Knows fault and quantity; knows nothing of what files mean.
 * Forms and nodes are immutable and thread-safe.
 */
@NullMarked
package millrace.document;

import org.jspecify.annotations.NullMarked;
