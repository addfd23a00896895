// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Comparator;
import java.util.List;
import millrace.bench.role.RoleName;
import millrace.calibration.CertificateCorrectionLine;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** The form of the entries of one role of an instrument in a bench file. */
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
    return YamlMapForm.of(
        "what is known of the " + role.text(),
        map ->
            new RoleFacts(
                map.optional(
                    "accuracy",
                    YamlForms.list(AccuracyForms.accuracy(kind(role)), 0),
                    List.of(),
                    "accuracy statements"),
                map.optional(
                    "corrections",
                    corrections(role),
                    List.of(),
                    "correction table of its certificate"),
                role == RoleName.LOAD ? LoadForms.of(map) : LoadProperties.NONE,
                InstrumentLimitForms.of(map, role)));
  }

  private static YamlForm<List<CertificateCorrectionLine>> corrections(RoleName role) {
    return YamlForms.map(
        YamlForms.list(AccuracyForms.correction(kind(role)), 0),
        lines ->
            lines.stream()
                .sorted(Comparator.comparingDouble(CertificateCorrectionLine::at))
                .toList());
  }
}
