// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import java.util.Comparator;
import java.util.List;
import java.util.function.Function;
import millrace.bench.role.RoleName;
import millrace.calibration.Accuracy;
import millrace.calibration.Correction;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
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

  static Form<RoleFacts> facts(RoleName role) {
    MapForm.Builder map = MapForm.of("what is known of the " + role.text());
    Key<List<Accuracy>> accuracy =
        map.optional(
            "accuracy",
            Forms.list(AccuracyForms.accuracy(kind(role)), 0),
            List.of(),
            "accuracy statements");
    Key<List<Correction>> corrections =
        map.optional(
            "corrections",
            Forms.list(AccuracyForms.correction(kind(role)), 0),
            List.of(),
            "correction table of its certificate");
    Function<MapForm.Values, LoadBox> box =
        role == RoleName.LOAD ? LoadForms.keys(map) : v -> LoadBox.NONE;
    Function<MapForm.Values, Allowed> allowed = AllowedForms.keys(map, role);
    return map.reads(
        v ->
            new RoleFacts(
                v.get(accuracy),
                v.get(corrections).stream()
                    .sorted(Comparator.comparingDouble(Correction::at))
                    .toList(),
                box.apply(v),
                allowed.apply(v)));
  }
}
