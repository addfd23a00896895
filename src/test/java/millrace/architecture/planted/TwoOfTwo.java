// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

/** The other one. */
final class TwoOfTwo {
  static int count(Object asked) {
    return asked instanceof OneOfTwo one ? one.others().length : 0;
  }
}
