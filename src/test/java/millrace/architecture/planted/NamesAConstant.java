// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

/** The other half: compiled, it has a number and no trace of where that came from. */
public final class NamesAConstant {
  private NamesAConstant() {}

  static int doubled() {
    return 2 * HasAConstant.COUNT;
  }
}
