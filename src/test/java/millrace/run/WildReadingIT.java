// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.PointKind;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.quantity.TimeSpanSeconds;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** One wild reading where no other of the same point tells that it is wild. */
@Timeout(120)
class WildReadingIT {
  private static final String HEAD =
      """
      sequence: wild readings
      readings: {count: 1, line cycles: 1}
      settle: {wait: 100 ms}
      steps:
        - in ranges: [1mA]
          do:
            - zero
      """;

  private static final String SINGLES =
      HEAD
          + """
                - over loads: {share of compliance: {from: 5 %, to: 80 %, points: 16}}
                  sweep: both
          """
              .indent(0);

  private static final String SERIES =
      HEAD
          + """
                - over loads: {share of compliance: [10 %]}
                  sweep: as listed
                  do:
                    - watch: {for: 90 s, every: 1 s}
          """
              .indent(0);

  @TempDir private Path folder;

  private static FaultPlan wild(String instrument, double size, double atSeconds) {
    return FaultPlan.of(
        new SimFault(
            Kind.WILD_READING,
            instrument,
            new AtTime(TimeSpanSeconds.ofSeconds(atSeconds)),
            1,
            size,
            Duration.ZERO));
  }

  private static List<Reading> suspects(SimulatedNight night, MeasuredSignal signal) {
    return night.points().stream()
        .filter(p -> p.kind() != PointKind.ZERO)
        .flatMap(p -> night.reader().readings(p.id()).stream())
        .filter(r -> r.state() == ReadingState.SUSPECT && r.signal() == signal)
        .toList();
  }

  private void isFound(String sequence, FaultPlan faults, MeasuredSignal signal)
      throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, sequence, faults)) {
      night.run();
      List<Reading> suspects = suspects(night, signal);
      assertEquals(1, suspects.size(), suspects::toString);
      List<String> flags = night.incidents(IncidentKind.FLAG);
      assertEquals(1, flags.size(), flags::toString);
      assertTrue(flags.get(0).contains(suspects.get(0).raw()), flags.get(0));
      assertTrue(notEmpty(night.points()).stream().allMatch(p -> p.state() == PointState.COMPLETE));
    }
  }

  @ParameterizedTest
  @CsvSource({"ammeter,1e-3,5", "ammeter,-1e-4,8"})
  void theOnlyCurrentOfAPointIsAskedAgain(String instrument, double size, int atSeconds)
      throws IOException {
    isFound(SINGLES, wild(instrument, size, atSeconds), MeasuredSignal.CURRENT);
  }

  @ParameterizedTest
  @ValueSource(doubles = {1e-3, -1e-4})
  void oneOfATimeSeriesIsAskedAgain(double size) throws IOException {
    isFound(SERIES, wild("ammeter", size, 60), MeasuredSignal.CURRENT);
  }

  @ParameterizedTest
  @ValueSource(doubles = {0.05, -0.3})
  void aTemperatureIsAskedAgain(double size) throws IOException {
    isFound(SERIES, wild("thermometer", size, 40.95), MeasuredSignal.UNIT_TEMPERATURE);
  }

  @ParameterizedTest
  @ValueSource(booleans = {true, false})
  void nothingIsSuspectedOfACleanRun(boolean series) throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, series ? SERIES : SINGLES)) {
      night.run();
      assertEquals(List.of(), suspects(night, MeasuredSignal.CURRENT));
      assertEquals(List.of(), suspects(night, MeasuredSignal.VOLTAGE));
      assertEquals(List.of(), night.incidents(IncidentKind.FLAG));
    }
  }
}
