package millrace.analysis.load;

import java.util.ArrayList;
import java.util.List;
import java.util.OptionalDouble;
import millrace.evidence.Component;
import millrace.evidence.Distribution;

/** Where the uncertainty of a compliance voltage comes from (measurement.md 3.3). */
final class ComplianceBudget {
  private ComplianceBudget() {}

  static List<Component> of(Crossing c) {
    List<Component> rows = new ArrayList<>();
    if (!c.sharp()) {
      double half = (c.highV() - c.lowV()) / 2;
      rows.add(row("enclosure of the crossing", half / 2));
    }
    rows.add(row("voltage and current at its ends", Math.max(c.lowU(), c.highU())));
    return rows;
  }

  private static Component row(String name, double u) {
    return new Component(
        name, "sweep", u, "V", Distribution.RECTANGULAR, 1, u, OptionalDouble.empty());
  }
}
