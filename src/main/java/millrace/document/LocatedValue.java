// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import millrace.fault.FilePlace;

/**
 * A value with its place in the file, so that a later fault can point to it.
 *
 * @param place the place
 * @param value the value
 * @param <T> its type
 */
public record LocatedValue<T>(FilePlace place, T value) {}
