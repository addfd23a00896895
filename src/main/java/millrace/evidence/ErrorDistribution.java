// SPDX-License-Identifier: Apache-2.0
package millrace.evidence;

import millrace.quantity.EnumWord;

/** The shape that is assumed for the error of one uncertainty component (JCGM 100:2008, 4.3). */
public enum ErrorDistribution implements EnumWord {
  /** Gaussian. */
  NORMAL("normal"),
  /** Scaled and shifted t, from few readings (JCGM 101:2008, 6.4.9). */
  STUDENT_T("t"),
  /** Constant between two limits; standard uncertainty is half-width / sqrt 3. */
  RECTANGULAR("rectangular"),
  /** Symmetric triangle; standard uncertainty is half-width / sqrt 6. */
  TRIANGULAR("triangular"),
  /** Arc sine; standard uncertainty is half-width / sqrt 2. */
  ARC_SINE("arc sine");

  private final String text;

  ErrorDistribution(String text) {
    this.text = text;
  }

  @Override
  public String text() {
    return text;
  }
}
