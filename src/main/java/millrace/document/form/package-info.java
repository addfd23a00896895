// SPDX-License-Identifier: Apache-2.0
/**
 * Forms say what a file may hold, read it with all its faults, and print it as a JSON Schema. Read
 * {@link millrace.document.form.YamlForm} first. Knows nodes, nothing of what files mean. Forms are
 * immutable and thread-safe.
 */
@NullMarked
package millrace.document.form;

import org.jspecify.annotations.NullMarked;
