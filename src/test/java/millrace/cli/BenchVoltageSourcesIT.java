// SPDX-License-Identifier: Apache-2.0
package millrace.cli;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** Whatever can make more than 60 V DC asks for the caution, in preview and before a run. */
class BenchVoltageSourcesIT {
  private static final String SHEET =
      """
      datasheet: low
      reference temperature: 23 degC
      open-circuit voltage: 14 V
      compliance: {voltage: 9 V, criterion: 0.1 %}
      parts: {S1: {kind: supply, voltage: 15 V}}
      ranges:
        1mA: {nominal: 1 mA}
      """;
  private static final String BENCH =
      """
      bench: table
      instruments:
        dmm: {driver: by hand, address: by hand, roles: {current meter: {}}}
        box: {driver: by hand, address: by hand, roles: {load: {}}}
        psu: {driver: by hand, address: by hand, roles: {supply: {at most: {voltage: 40 V, current: 100 mA}}}}
      """;
  private static final String SEQUENCE =
      """
      sequence: fed
      steps:
        - at supply voltages: [30 V]
          do:
            - in ranges: [1mA]
              do:
                - over loads: {resistance: [1 kohm]}
      """;

  @TempDir private Path folder;

  @BeforeEach
  void files() throws IOException {
    write("s.yaml", SEQUENCE);
    write("d.yaml", SHEET);
    write("b.yaml", BENCH);
  }

  private void write(String name, String text) throws IOException {
    Files.writeString(folder.resolve(name), text);
  }

  private void rewrite(String name, String written, String instead) throws IOException {
    String text = Files.readString(folder.resolve(name));
    assertTrue(text.contains(written), text);
    write(name, text.replace(written, instead));
  }

  private Spoken spoken(String command, String... more) {
    String[] words = {
      command,
      folder.resolve("s.yaml").toString(),
      "--datasheet",
      folder.resolve("d.yaml").toString(),
      "--bench",
      folder.resolve("b.yaml").toString(),
      "--logbook",
      folder.resolve("night.db").toString()
    };
    String[] all = java.util.Arrays.copyOf(words, words.length + more.length);
    System.arraycopy(more, 0, all, words.length, more.length);
    return Spoken.by(all);
  }

  @Test
  void below60VThereIsNoCaution() {
    Spoken said = spoken("preview");
    assertEquals(0, said.code(), said.err());
    assertFalse(said.out().contains("60 V"), said.out());
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "d.yaml|open-circuit voltage: 14 V|open-circuit voltage: 110 V|110 V, the open-circuit"
            + " voltage of the datasheet",
        "d.yaml|voltage: 15 V|voltage: 61 V|61 V, supply 'S1' of the datasheet",
        "d.yaml|voltage: 9 V|voltage: 90 V|90 V, the compliance voltage of the datasheet",
        "b.yaml|voltage: 40 V|voltage: 1000 V|1 kV, to which the supply 'psu' may be set (",
      })
  void whateverMakesMoreThan60VIsNamedInPreviewAndHasToBeConfirmed(
      String file, String written, String instead, String named) throws IOException {
    rewrite("b.yaml", "voltage: 40 V", "voltage: 60 V");
    if (file.equals("d.yaml") && written.equals("voltage: 15 V")) {
      rewrite("b.yaml", "voltage: 60 V", "voltage: 61 V");
    }
    rewrite(file, written.replace("voltage: 40 V", "voltage: 60 V"), instead);
    Spoken said = spoken("preview");
    assertEquals(0, said.code(), said.err());
    assertTrue(said.out().contains("can injure or kill"), said.out());
    assertTrue(said.out().contains(named), said.out());
    assertTrue(
        said.out().indexOf("CAUTION") < said.out().indexOf("time left"),
        "what can hurt comes first");
    Spoken run = spoken("run", "--unit", "SN1");
    assertEquals(2, run.code(), run.err());
    assertTrue(run.err().contains("the caution above 60 V DC was not confirmed"), run.err());
    assertTrue(run.err().contains(named), run.err());
    assertTrue(Files.notExists(folder.resolve("night.db")), "a refused start leaves no logbook");
  }

  @Test
  void aSequenceThatAsksForMoreIsRefusedWithItsPlaceAndNamedWhereItIsAllowed() throws IOException {
    rewrite("s.yaml", "[30 V]", "[150 V]");
    for (String command : new String[] {"preview", "run"}) {
      Spoken said = command.equals("run") ? spoken("run", "--unit", "SN1") : spoken("preview");
      assertEquals(2, said.code(), said.err());
      assertTrue(
          said.err()
              .contains(
                  "s.yaml:7:13: a supply of 150 V is asked for; expected at most 40 V, as 'psu' is"
                      + " allowed."),
          said.err());
    }
    rewrite("b.yaml", "voltage: 40 V", "voltage: 150 V");
    Spoken said = spoken("preview");
    assertEquals(0, said.code(), said.err());
    assertTrue(said.out().contains("150 V, the supply voltage asked for at "), said.out());
    assertTrue(said.out().contains("what the input of the current meter 'dmm' bears"), said.out());
  }

  @Test
  void aBenchWithoutInterlocksIsWarnedOf() throws IOException {
    assertTrue(
        spoken("preview").out().contains("CAUTION: the bench 'table' has no interlocks"),
        "in preview");
    assertTrue(
        spoken("run", "--unit", "SN1").err().contains("CAUTION: the bench 'table' has no interl"),
        "at the start of a run");
    write("b.yaml", BENCH + "interlocks: {free disk: 1 MB}\n");
    assertFalse(spoken("preview").out().contains("no interlocks"), "with some");
  }
}
