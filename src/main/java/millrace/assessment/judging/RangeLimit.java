// SPDX-License-Identifier: Apache-2.0
package millrace.assessment.judging;

import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetLimit;
import millrace.evidence.ConditionBox;
import millrace.evidence.Limit;
import millrace.quantity.ClosedInterval;

/**
 * One limit of a datasheet, for one range.
 *
 * @param stated the limit
 * @param range the range
 * @param referenceDegC T_ref, at which a limit without a temperature holds, degC
 */
record RangeLimit(DatasheetLimit stated, Datasheet.Range range, double referenceDegC) {

  Limit limit() {
    return stated.limit(range.nominalA());
  }

  ConditionBox box() {
    return stated.when();
  }

  /** The temperatures that it holds at (methods.md 7.1). */
  ClosedInterval temperatureDegC() {
    return box()
        .temperatureDegC()
        .orElseGet(() -> new ClosedInterval(referenceDegC, referenceDegC));
  }
}
