// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import millrace.fault.Place;

/**
 * A value with the place where it was written, so that a fault found later can still point there.
 *
 * @param place where
 * @param value what
 * @param <T> its type
 */
public record Located<T>(Place place, T value) {}
