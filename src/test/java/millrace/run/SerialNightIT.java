// SPDX-License-Identifier: Apache-2.0
package millrace.run;

import static millrace.NotEmpty.notEmpty;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.evidence.IncidentKind;
import millrace.evidence.MeasuredSignal;
import millrace.evidence.Point;
import millrace.evidence.PointState;
import millrace.evidence.Reading;
import millrace.evidence.ReadingState;
import millrace.link.PtyPair;
import millrace.run.control.RunObserver;
import millrace.sequence.Plan.PlannedPoint;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.api.io.TempDir;

/** A run on a bench of which every instrument is at a serial line. */
@Timeout(120)
class SerialNightIT {
  private static final Pattern ADDRESS = Pattern.compile("tcp 127\\.0\\.0\\.1:(\\d+)");

  @TempDir private Path folder;
  private final Map<Integer, PtyPair> lines = new LinkedHashMap<>();

  @AfterEach
  void pullOutAll() throws Exception {
    for (PtyPair line : lines.values()) {
      line.close();
    }
  }

  private String serial(String bench) {
    return ADDRESS.matcher(bench).replaceAll(m -> Matcher.quoteReplacement(address(m.group(1))));
  }

  private String address(String port) {
    try {
      PtyPair line =
          PtyPair.before(Integer.parseInt(port), Files.createDirectory(folder.resolve(port)));
      lines.put(Integer.parseInt(port), line);
      return "serial " + line.near() + " 115200";
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }

  /** Every current in the order in which it was read, A; all of them numbers. */
  private static List<Double> currents(SimulatedNight night) {
    List<Double> currents = new ArrayList<>();
    for (Point point : notEmpty(night.points())) {
      assertEquals(PointState.COMPLETE, point.state(), point.reason());
      for (Reading r : night.reader().readings(point.id())) {
        if (r.signal() == MeasuredSignal.CURRENT && r.state() == ReadingState.NUMBER) {
          currents.add(r.value().orElseThrow());
        }
      }
    }
    return currents;
  }

  private List<Double> overSockets() throws IOException {
    Path own = Files.createDirectory(folder.resolve("sockets"));
    try (SimulatedNight night = SimulatedNight.of(own, RunnerIT.SHORT)) {
      night.run();
      return currents(night);
    }
  }

  private static void assertAlike(List<Double> expected, List<Double> found) {
    assertEquals(expected.size(), found.size());
    for (int i = 0; i < expected.size(); i++) {
      assertEquals(expected.get(i), found.get(i), 2e-8, "reading " + i);
    }
  }

  @Test
  void findsWhatItFindsOverSockets() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT, this::serial)) {
      night.run();
      assertAlike(overSockets(), currents(night));
      assertEquals(List.of(), night.bench().unsafe());
    }
  }

  @Test
  void goesOnWhenTheMetersCableIsPulledAndPutBack() throws IOException {
    try (SimulatedNight night = SimulatedNight.of(folder, RunnerIT.SHORT, this::serial)) {
      PtyPair meter = lines.get(night.bench().ports().get("ammeter"));
      night.observe(
          new RunObserver() {
            private int points;

            @Override
            public void point(PlannedPoint point, Ahead ahead) {
              if (++points == 4) {
                again(meter);
              }
            }
          });
      night.run();
      assertAlike(overSockets(), currents(night));
      assertFalse(night.incidents(IncidentKind.RETRY).isEmpty());
      assertTrue(
          night.incidents(IncidentKind.RETRY).stream().anyMatch(t -> t.contains("serial")),
          night.incidents(IncidentKind.RETRY)::toString);
    }
  }

  private static void again(PtyPair line) {
    try {
      line.pullOut();
      line.plugIn();
    } catch (Exception e) {
      throw new IllegalStateException(e);
    }
  }
}
