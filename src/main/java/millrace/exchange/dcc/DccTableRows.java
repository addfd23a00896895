// SPDX-License-Identifier: Apache-2.0
package millrace.exchange.dcc;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.fault.FilePlace;
import millrace.quantity.NumberText;

/** Combines the lists of a table into rows and compares the values that they state twice. */
record DccTableRows(
    FilePlace place,
    StatedValues reference,
    StatedValues indication,
    Optional<StatedValues> error,
    StatedValues.Uncertainties u) {

  CalibrationTable table() {
    int n = indication.values().size();
    if (reference.values().size() != n || error.filter(e -> e.values().size() != n).isPresent()) {
      throw StatedValues.refusal(
          place,
          "its lists are of different lengths",
          "as many references and errors as indications");
    }
    if (error.filter(e -> e.kind() != indication.kind()).isPresent()) {
      throw StatedValues.refusal(
          place, "its errors are of another kind than its indications", "one unit for both");
    }
    List<CalibrationTable.Row> rows = new ArrayList<>();
    for (int i = 0; i < n; i++) {
      rows.add(row(i));
    }
    return new CalibrationTable(place, reference.kind(), indication.kind(), rows);
  }

  /** In decimals, as in the certificate: binary fractions would add digits. */
  private double difference(int i) {
    return BigDecimal.valueOf(indication.values().get(i))
        .subtract(BigDecimal.valueOf(reference.values().get(i)))
        .doubleValue();
  }

  private CalibrationTable.Row row(int i) {
    boolean alike = reference.kind() == indication.kind();
    double difference = alike ? difference(i) : 0;
    double stated = error.map(e -> e.values().get(i)).orElse(difference);
    double expanded = u.expanded().get(i);
    double k = u.factors().get(i);
    if (!(expanded > 0 && k > 0)) {
      throw StatedValues.refusal(
          place, "U or k of value %s is not above 0".formatted(i + 1), "both above 0");
    }
    // Values are rounded to the last digit of U; a difference beyond U is not caused by rounding.
    if (alike && Math.abs(stated - difference) > expanded) {
      throw StatedValues.refusal(
          place,
          "value %s contradicts itself: its error is %s, but indication minus reference is %s"
              .formatted(
                  i + 1, NumberText.significant(stated, 4), NumberText.significant(difference, 4)),
          "the same within U, " + NumberText.significant(expanded, 2));
    }
    return new CalibrationTable.Row(
        reference.values().get(i), indication.values().get(i), stated, expanded, k);
  }
}
