// SPDX-License-Identifier: Apache-2.0
package millrace.bench.check;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import millrace.bench.Bench;
import millrace.bench.Interlocks;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.bench.role.Sensor;
import millrace.bench.role.Supply;
import millrace.fault.InstrumentException;
import millrace.quantity.ClosedInterval;
import millrace.quantity.Dimension;
import millrace.quantity.QuantityText;

/** Reads the sensors of the interlocks, and compares the values with their bounds. */
public final class InterlockCheck {
  private final Bench bench;
  private final List<BenchCheckFinding> found = new ArrayList<>();

  private InterlockCheck(Bench bench) {
    this.bench = bench;
  }

  /**
   * Reads every sensor that an interlock of the bench file needs.
   *
   * @param bench the open bench
   * @return one finding each, in a fixed order; empty if there are no interlocks
   */
  public static List<BenchCheckFinding> of(Bench bench) {
    Interlocks bounds = bench.file().interlocks();
    InterlockCheck check = new InterlockCheck(bench);
    check.sensor(RoleName.CHAMBER, bounds.chamber().degC(), Dimension.TEMPERATURE);
    check.sensor(RoleName.UNIT_THERMOMETER, bounds.unit().degC(), Dimension.TEMPERATURE);
    check.sensor(RoleName.HYGROMETER, bounds.humidity(), Dimension.HUMIDITY);
    check.supply(below(bounds.supplyA()));
    return List.copyOf(check.found);
  }

  private static Optional<ClosedInterval> below(Optional<Double> most) {
    return most.map(m -> new ClosedInterval(Double.NEGATIVE_INFINITY, m));
  }

  private void sensor(RoleName role, Optional<ClosedInterval> band, Dimension dimension) {
    Optional<Sensor> sensor = bench.in(role, Sensor.class);
    if (band.isPresent() && sensor.isPresent()) {
      hold(role.text(), sensor.get(), band.get(), dimension);
    }
  }

  private void supply(Optional<ClosedInterval> band) {
    Optional<Supply> supply = bench.in(RoleName.SUPPLY, Supply.class);
    if (band.isPresent() && supply.isPresent()) {
      hold("supply current", supply.get()::readCurrent, band.get(), Dimension.CURRENT);
    }
  }

  private void hold(String name, Sensor sensor, ClosedInterval band, Dimension dimension) {
    String what = "interlock " + name;
    try {
      found.add(judged(what, sensor.read(), band, dimension));
    } catch (InstrumentException e) {
      found.add(BenchCheckFinding.noAnswer(what, String.valueOf(e.getMessage())));
    }
  }

  private static BenchCheckFinding judged(
      String what, Reply reply, ClosedInterval band, Dimension dimension) {
    if (!(reply instanceof Reply.Number number)) {
      return BenchCheckFinding.bad(
          what,
          "the sensor gave '%s', which is %s; expected a number, without it nothing is watched. Check the sensor."
              .formatted(reply.raw(), reply.state().text()));
    }
    String allowed = band.inWords(dimension);
    String value = QuantityText.print(number.value(), dimension, 4);
    return band.contains(number.value())
        ? BenchCheckFinding.good(what, value + "; allowed " + allowed)
        : BenchCheckFinding.bad(
            what, "%s; expected %s. A run would stop at once.".formatted(value, allowed));
  }
}
