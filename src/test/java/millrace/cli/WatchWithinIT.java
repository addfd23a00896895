// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.evidence.Incident;
import millrace.evidence.IncidentKind;
import millrace.evidence.Point;
import millrace.evidence.PointKind;
import millrace.logbook.Logbook;
import millrace.logbook.RunReader;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** Readings over time are taken where the night allows, and are as long as the run so far. */
class WatchWithinIT {
  private static final String SEQUENCE =
      """
      sequence: where it ends in time
      readings: {count: 4, line cycles: 10}
      steps:
        - in ranges: [1mA]
          do:
            - over loads: {share of compliance: [10 %, 50 %]}
              do:
                - measure
            - over loads: {share of compliance: [1 %]}
              sweep: as listed
              do:
                - watch: {if it ends within: 10 min}
                - watch: {for: 1 h, if it ends within: 10 min}
      """;

  @TempDir Path folder;

  @Test
  void aRecordIsAsLongAsTheRunSoFarAndOneThatWouldNotEndInTimeIsPassedOver() throws IOException {
    Path sequence = Files.writeString(folder.resolve("w.yaml"), SEQUENCE);
    Path book = folder.resolve("w.db");
    Spoken spoken =
        Spoken.by(
            "run",
            sequence.toString(),
            "--unit",
            "FX3-00042",
            "--simulated",
            "--datasheet",
            "examples/fx-3.datasheet.yaml",
            "--logbook",
            book.toString());
    assertEquals(7, spoken.code(), spoken.err()); // its limits need more than this
    try (Logbook logbook = Logbook.readOnly(book)) {
      RunReader run = logbook.reader(1);
      List<Long> records = run.pointsOf(PointKind.TIME_SERIES);
      assertEquals(1, records.size());
      Point record = run.point(records.get(0)).orElseThrow();
      double began = record.started().toMillis() / 1e3;
      double ended = record.ended().toMillis() / 1e3;
      assertEquals(began, ended - began, 0.1 * began);
      List<String> skipped =
          run.incidents().stream()
              .filter(i -> i.kind() == IncidentKind.SKIP)
              .map(Incident::text)
              .toList();
      assertEquals(1, skipped.size(), skipped.toString());
      assertTrue(skipped.get(0).contains("passed over: 1.00 h on top of"), skipped.get(0));
    }
  }
}
