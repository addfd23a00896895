// SPDX-License-Identifier: Apache-2.0
package millrace.bench;

import millrace.bench.BenchFile.Entry;
import millrace.bench.role.RoleName;
import millrace.bench.role.SetPointGate;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/**
 * Refuses set points of one instrument beyond the limits of the bench file.
 *
 * @param entry the instrument in the bench file
 * @param words what is said of a number that is beyond
 */
record InstrumentLimitGate(Entry entry, String words) implements SetPointGate {
  /** Tolerance for the rounding of a printed number. */
  private static final double PRINTED = 1e-6;

  InstrumentLimitGate(Entry entry) {
    this(entry, "was to be set to %s, which was not sent");
  }

  @Override
  public void refuseBeyond(RoleName role, String setting, double value) {
    RoleFacts facts = entry.roles().get(role);
    if (facts == null) {
      return;
    }
    InstrumentLimits allowed = facts.allowed();
    switch (setting) {
      case "voltage" -> allowed.mostV().ifPresent(v -> most(role, value, v, Dimension.VOLTAGE));
      case "current" -> allowed.mostA().ifPresent(a -> most(role, value, a, Dimension.CURRENT));
      case "rate" ->
          allowed.mostKPerS().ifPresent(r -> most(role, value, r, Dimension.TEMPERATURE_RATE));
      case "temperature" -> allowed.betweenDegC().ifPresent(band -> within(role, value, band));
      default -> {}
    }
  }

  private void most(RoleName role, double value, double most, Dimension dimension) {
    if (!(Math.abs(value) <= most * (1 + PRINTED))) {
      throw beyond(role, shown(value, dimension), "at most " + QuantityText.print(most, dimension));
    }
  }

  private void within(RoleName role, double degC, ClosedInterval band) {
    if (!(degC >= band.lower() - PRINTED && degC <= band.upper() + PRINTED)) {
      throw beyond(role, shown(degC, Dimension.TEMPERATURE), band.inWords(Dimension.TEMPERATURE));
    }
  }

  private static String shown(double value, Dimension dimension) {
    return Double.isNaN(value) ? "what is no number" : QuantityText.print(value, dimension);
  }

  private InstrumentException beyond(RoleName role, String found, String allowed) {
    return new InstrumentException(
        InstrumentTrouble.of(
                InstrumentTrouble.Kind.REFUSED, entry.address().toString(), words.formatted(found))
            .with(
                allowed + ", as the bench file allows",
                "Ask for less, or change the bench file after thinking about it.")
            .named(role.text() + " '" + entry.name() + "'"));
  }
}
