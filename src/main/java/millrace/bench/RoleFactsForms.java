// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import millrace.bench.role.RoleName;
import millrace.calibration.AccuracyStatement;
import millrace.calibration.CertificateCorrectionLine;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.quantity.Dimension;

/** How what is known of an instrument in a role is written in a bench file. */
final class RoleFactsForms {
  private RoleFactsForms() {}

  private static Dimension kind(RoleName role) {
    return switch (role) {
      case CURRENT_METER -> Dimension.CURRENT;
      case VOLTMETER, SHUNT_VOLTMETER, SUPPLY -> Dimension.VOLTAGE;
      case LOAD -> Dimension.RESISTANCE;
      case CHAMBER, UNIT_THERMOMETER, LAB_THERMOMETER, SHUNT_THERMOMETER ->
          Dimension.TEMPERATURE_DIFFERENCE;
      case HYGROMETER -> Dimension.HUMIDITY;
      case RANGE_SELECTOR, SWITCH, REVERSER -> Dimension.NUMBER;
    };
  }

  static YamlForm<RoleFacts> facts(RoleName role) {
    YamlMapForm.Builder map = YamlMapForm.of("what is known of the " + role.text());
    Key<List<AccuracyStatement>> accuracy =
        map.optional(
            "accuracy",
            YamlForms.list(AccuracyForms.accuracy(kind(role)), 0),
            List.of(),
            "accuracy statements");
    Key<List<CertificateCorrectionLine>> corrections =
        map.optional(
            "corrections",
            YamlForms.list(AccuracyForms.correction(kind(role)), 0),
            List.of(),
            "correction table of its certificate");
    Function<YamlMapForm.Values, LoadProperties> box =
        role == RoleName.LOAD ? LoadForms.keys(map) : v -> LoadProperties.NONE;
    Function<YamlMapForm.Values, InstrumentLimits> allowed = InstrumentLimitForms.keys(map, role);
    return map.reads(
        v ->
            new RoleFacts(
                v.get(accuracy),
                v.get(corrections).stream()
                    .sorted(Comparator.comparingDouble(CertificateCorrectionLine::at))
                    .toList(),
                box.apply(v),
                allowed.apply(v)));
  }
}
