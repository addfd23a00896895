// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointConditions;
import millrace.evidence.PointKind;
import millrace.evidence.PointNumber;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.evidence.RunOrigin;
import millrace.evidence.SweepDirection;
import millrace.evidence.setting.PointSettings;

/** Invented runs, points and readings for the tests of the logbook. */
final class Sample {
  static final Instant START = Instant.parse("2026-11-25T18:00:00.123456789Z");

  private Sample() {}

  static RunStart start(String unit) {
    return new RunStart(
        unit,
        RunOrigin.BENCH,
        "overnight",
        new RunStart.People(Optional.of("Ada"), Optional.of("B7"), Optional.empty()),
        Optional.empty(),
        "0.1.0",
        START,
        ZoneOffset.ofHours(1),
        new RunFacts(Map.of("shift", "night")));
  }

  static Point point(String key, PointState state) {
    return new Point(
        0,
        PointNumber.of(1),
        key,
        PointKind.MEASURE,
        conditions(),
        state,
        state == PointState.FLAGGED ? "overload" : "",
        Duration.ofSeconds(10),
        Duration.ofSeconds(12),
        PointSettings.of(Map.of("current meter range", "1 mA", "voltmeter autozero", "on")));
  }

  static PointConditions conditions() {
    return new PointConditions(
        Optional.of("1mA"),
        OptionalDouble.of(1e-3),
        OptionalDouble.of(23),
        OptionalDouble.of(4700),
        OptionalDouble.empty(),
        OptionalDouble.of(15),
        OptionalDouble.empty(),
        Optional.of(SweepDirection.UP),
        Optional.of("A"),
        1);
  }

  static Reading reading(double currentA, int i) {
    return new Reading(
        MeasuredSignal.CURRENT,
        "dmm1",
        ReadingState.NUMBER,
        OptionalDouble.of(currentA),
        OptionalDouble.of(1e-9),
        currentA + "\n",
        START.plusMillis(i),
        Duration.ofMillis(10_000 + i));
  }

  static List<Reading> readings(int count) {
    List<Reading> all = new ArrayList<>();
    for (int i = 0; i < count; i++) {
      all.add(reading(1e-3 + i * 1e-9, i));
    }
    return all;
  }

  static Incident incident(String text) {
    return new Incident(IncidentKind.RETRY, Optional.of("p1"), text, START, Duration.ofSeconds(11));
  }
}
