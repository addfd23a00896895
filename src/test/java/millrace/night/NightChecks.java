// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.HashSet;
import java.util.Iterator;
import java.util.List;
import java.util.Map;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.stream.Collectors;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.logbook.RunReader;
import millrace.sim.SimMeterReply;
import millrace.sim.fault.SimFault;

/** What must hold of the logbook after any night, whatever went wrong in it. */
final class NightChecks {
  private final RunReader reader;
  private final List<SimMeterReply> given;
  private final Set<SimFault.Kind> struck;

  NightChecks(RunReader reader, List<SimMeterReply> given, Set<SimFault.Kind> struck) {
    this.reader = reader;
    this.given = given;
    this.struck = struck;
  }

  static void all(RunReader reader, CampaignNight night, Set<String> planned) {
    Set<SimFault.Kind> struck =
        Arrays.stream(SimFault.Kind.values()).filter(night::struck).collect(Collectors.toSet());
    NightChecks checks = new NightChecks(reader, night.given(), struck);
    checks.nothingShownIsLost(night.shown());
    checks.nothingIsThereTwice(planned);
    checks.nothingIsInvented(MeasuredSignal.CURRENT, "ammeter");
    checks.nothingIsInvented(MeasuredSignal.VOLTAGE, "voltmeter");
  }

  private void nothingShownIsLost(List<CampaignNight.Shown> shown) {
    Map<String, List<Reading>> kept = new HashMap<>();
    for (Point point : reader.points()) {
      kept.put(point.id() + " " + point.key(), reader.readings(point.id()));
    }
    for (CampaignNight.Shown each : notEmpty(shown)) {
      if (!each.readings().isEmpty()) {
        String key = each.point().id() + " " + each.point().key();
        assertEquals(raws(each.readings()), raws(kept.getOrDefault(key, List.of())), key);
      }
    }
  }

  private static List<String> raws(List<Reading> readings) {
    return readings.stream().map(r -> r.signal().text() + " " + r.raw()).toList();
  }

  /** Each planned point once; only a soak may have been begun several times. */
  private void nothingIsThereTwice(Set<String> planned) {
    List<String> keys =
        reader.points().stream()
            .filter(p -> p.kind() != PointKind.SOAK)
            .filter(p -> p.state() != PointState.SKIPPED)
            .map(Point::key)
            .toList();
    assertEquals(keys.size(), new HashSet<>(keys).size(), "a point is there twice: " + keys);
    assertTrue(planned.containsAll(keys), "a point that nobody planned");
    Set<String> all = new HashSet<>();
    reader.points().forEach(p -> all.add(p.key()));
    assertTrue(all.containsAll(planned), "a point is missing");
    assertTrue(notEmpty(reader.points()).stream().noneMatch(p -> p.state() == PointState.OPEN));
  }

  /**
   * Walks the logbook beside what a meter gave: the same replies in the same order under the
   * conditions that they are filed under; what was given and thrown away with its point is passed
   * over.
   *
   * @return how many readings there were
   */
  int nothingIsInvented(MeasuredSignal signal, String meter) {
    Iterator<SimMeterReply> rest =
        given.stream().filter(g -> g.instrument().equals(meter)).iterator();
    int found = 0;
    for (Point point : reader.points()) {
      if (point.kind() == PointKind.SOAK) {
        continue; // several may be begun before one ends, so that their order is another
      }
      List<Reading> readings = reader.readings(point.id());
      for (Reading reading : readings) {
        boolean number = reading.state() == ReadingState.NUMBER;
        if (number && reading.signal() == signal && !maybeSpoilt(point, signal)) {
          pass(rest, point, readings, reading);
          found++;
        }
      }
    }
    return found;
  }

  /** What a wild reading multiplies is not told from its neighbours where there is nothing. */
  private boolean maybeSpoilt(Point point, MeasuredSignal signal) {
    boolean nothing =
        point.kind() == PointKind.ZERO
            || signal == MeasuredSignal.VOLTAGE && point.conditions().loadOhm().orElse(1) == 0;
    return nothing && struck.contains(SimFault.Kind.WILD_READING);
  }

  private void pass(Iterator<SimMeterReply> rest, Point point, List<Reading> all, Reading reading) {
    List<String> near = new ArrayList<>();
    while (rest.hasNext()) {
      SimMeterReply next = rest.next();
      if (next.reply().equals(reading.raw()) && isOf(point, next) && isAt(point, all, next)) {
        return;
      } else if (next.reply().equals(reading.raw())) {
        near.add(next.toString());
      }
    }
    throw new AssertionError(
        "the meter did not give %s under the conditions of %s with %s, but %s"
            .formatted(reading.raw(), point, degC(all), near));
  }

  private static boolean isOf(Point point, SimMeterReply next) {
    if (point.kind() != PointKind.MEASURE) {
      return true;
    }
    double ohm = point.conditions().loadOhm().orElseThrow();
    return next.range().equals(point.conditions().range())
        && Math.abs(ohm - next.loadOhm()) <= 0.03 + 300e-6 * ohm;
  }

  /**
   * A point that is not flagged is at the temperature that is filed with it: the thermometer is
   * good to 0.08 K by its bench file, and the unit moves by less than 0.1 K within a point. A
   * thermometer that is off, or not at the unit, is told from a good one only by the chamber, which
   * it may differ from by a unit's own warmth and uneven air.
   */
  private boolean isAt(Point point, List<Reading> all, SimMeterReply next) {
    boolean counts =
        point.kind() == PointKind.MEASURE
            && point.state() == PointState.COMPLETE
            && point.conditions().temperatureDegC().isPresent();
    double setpoint = point.conditions().temperatureDegC().orElse(next.unitDegC());
    boolean off =
        struck.contains(SimFault.Kind.SENSOR_OFFSET)
            || struck.contains(SimFault.Kind.THERMOMETER_ASIDE);
    double most = off ? 0.08 + 0.5 + 2 + 0.02 * Math.abs(setpoint - 23) : 0.08 + 0.1;
    double filed = degC(all).orElse(setpoint);
    return !counts
        || Math.abs(filed - next.unitDegC()) <= (degC(all).isPresent() ? most : 2.5)
            && Math.abs(next.unitDegC() - setpoint) <= 2.5;
  }

  private static OptionalDouble degC(List<Reading> readings) {
    return readings.stream()
        .filter(r -> r.signal() == MeasuredSignal.UNIT_TEMPERATURE && r.value().isPresent())
        .mapToDouble(r -> r.value().orElseThrow())
        .findFirst();
  }
}
