// SPDX-License-Identifier: Apache-2.0
package millrace.sequence;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertThrows;

import java.nio.file.Path;
import java.util.List;
import java.util.Map;
import millrace.datasheet.Datasheet;
import millrace.datasheet.DatasheetFile;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/** Small files that the tests of this room share. */
final class Sample {
  /** Two ranges; 10 V of compliance, 5 V in the larger one. */
  static final Datasheet DATASHEET =
      DatasheetFile.read(
          "kind.yaml",
          """
          datasheet: test kind
          compliance: {voltage: 10 V}
          ranges:
            100uA: {nominal: 100 uA}
            1mA: {nominal: 1 mA, compliance voltage: 5 V}
          """
              .getBytes(UTF_8));

  /** The same, without any promise of compliance. */
  static final Datasheet BARE =
      DatasheetFile.read(
          "bare.yaml", "{datasheet: bare, ranges: {1mA: {nominal: 1 mA}}}".getBytes(UTF_8));

  private Sample() {}

  /** A sequence of these steps, written at column 1. */
  static SequenceFile steps(String steps) {
    return file("sequence: test\nsteps:\n" + steps);
  }

  static SequenceFile file(String text) {
    return files(Map.of("night.yaml", text), "night.yaml");
  }

  /** A sequence of several files, held in memory. */
  static SequenceFile files(Map<String, String> texts, String first) {
    return SequenceForms.read(Path.of(first), path -> bytes(texts, path)).sequence();
  }

  private static byte[] bytes(Map<String, String> texts, Path path) {
    String text = texts.get(path.normalize().toString());
    if (text == null) {
      throw new BadInputException(
          new InputFault(FilePlace.of(path.toString()), "there is no such file", "a file", ""));
    }
    return text.getBytes(UTF_8);
  }

  static Plan plan(String steps) {
    return SequenceExpansion.expand(steps(steps), DATASHEET, List.of());
  }

  static List<String> keys(String steps) {
    return keys(plan(steps));
  }

  static List<String> keys(Plan plan) {
    return plan.points().stream().map(Plan.PlannedPoint::key).toList();
  }

  /** The whole message with which reading or expanding is refused. */
  static String refused(String steps) {
    return assertThrows(BadInputException.class, () -> plan(steps)).getMessage();
  }

  static String refusedFile(String text) {
    return assertThrows(BadInputException.class, () -> file(text)).getMessage();
  }
}
