// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import millrace.fault.FilePlace;

/**
 * A value with the place where it was written, so that a fault found later can still point there.
 *
 * @param place where
 * @param value what
 * @param <T> its type
 */
public record LocatedValue<T>(FilePlace place, T value) {}
