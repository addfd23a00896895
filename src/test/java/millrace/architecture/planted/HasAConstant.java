// SPDX-License-Identifier: Apache-2.0
package millrace.architecture.planted;

/** Half of a circle that only the source shows. */
public final class HasAConstant {
  /** Copied into whoever uses it. */
  public static final int COUNT = 3;

  private HasAConstant() {}

  static int twice() {
    return NamesAConstant.doubled();
  }
}
