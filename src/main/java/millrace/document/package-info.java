// SPDX-License-Identifier: Apache-2.0
/**
 * What reading and writing files have in common: wording of messages, hashes, patterns that no file
 * makes slow, values with their place. Files are read by the packages below it, which say what they
 * are: {@code yaml}, {@code form}, {@code csv}, {@code file}. Read {@link
 * millrace.document.LocatedValue} first. Knows fault and quantity. Stateless or immutable.
 */
@NullMarked
package millrace.document;

import org.jspecify.annotations.NullMarked;
