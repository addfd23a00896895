// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

/** Needs the other of two, which needs it: a circle on purpose. */
record OneOfTwo(TwoOfTwo[] others) {}
