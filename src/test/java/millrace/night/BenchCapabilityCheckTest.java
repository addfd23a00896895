// SPDX-License-Identifier: Apache-2.0
package millrace.night;

import static org.junit.jupiter.api.Assertions.assertDoesNotThrow;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.List;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.fault.BadInputException;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What a sequence may ask of a bench. */
class BenchCapabilityCheckTest {
  private static final String SEQUENCE =
      """
      sequence: asks for much
      steps:
        - at temperatures: [60 degC]
          do:
            - in ranges: [1mA]
              do:
                - over loads: {share of compliance: [0 %, 50 %]}
      """;

  @TempDir private Path folder;

  private void check(String written, String instead) throws IOException {
    Path sequence = Files.writeString(folder.resolve("much.yaml"), SEQUENCE);
    RunInputs inputs = RunInputs.read(sequence, Path.of("examples/fx-3.datasheet.yaml"));
    String text = SimulatedBenchSession.anyPorts().replace(written, instead);
    BenchFile bench = BenchForms.read("bench.yaml", text.getBytes(StandardCharsets.UTF_8));
    BenchCapabilityCheck.check(inputs.plan(List.of("1")), inputs.datasheet(), bench);
  }

  @Test
  void whatTheInterlocksAllowIsTaken() {
    assertDoesNotThrow(() -> check("nothing", "nothing"));
  }

  @Test
  void readingsBothWaysRoundNeedAReversingSwitch() throws IOException {
    Path sequence =
        Files.writeString(
            folder.resolve("reversal.yaml"),
            """
            sequence: s
            readings: {reversal: yes}
            steps:
              - in ranges: [1mA]
                do: [zero, {over loads: {resistance: [0 ohm]}, do: measure}]
            """);
    RunInputs inputs = RunInputs.read(sequence, Path.of("examples/fx-3.datasheet.yaml"));
    String text = SimulatedBenchSession.anyPorts().replace("      reversing switch: {}\n", "");
    BenchFile bench = BenchForms.read("bench.yaml", text.getBytes(StandardCharsets.UTF_8));
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    BenchCapabilityCheck.check(
                        inputs.plan(List.of("1")), inputs.datasheet(), bench))
            .getMessage();
    assertTrue(
        message.contains("the bench 'simulated bench' has no reversing switch; expected an"),
        message);
  }

  @Test
  void aCheckStandardThatTheBenchDoesNotHaveIsRefusedByName() throws IOException {
    Path sequence =
        Files.writeString(
            folder.resolve("standard.yaml"), "sequence: s\nsteps:\n  - check standard: stedy\n");
    RunInputs inputs = RunInputs.read(sequence, Path.of("examples/fx-3.datasheet.yaml"));
    BenchFile bench =
        BenchForms.read(
            "bench.yaml", SimulatedBenchSession.anyPorts().getBytes(StandardCharsets.UTF_8));
    String message =
        assertThrows(
                BadInputException.class,
                () ->
                    BenchCapabilityCheck.check(
                        inputs.plan(List.of("1")), inputs.datasheet(), bench))
            .getMessage();
    assertTrue(
        message.endsWith(
            "standard.yaml:3:5: the bench 'simulated bench' has no check standard 'stedy'; expected"
                + " 'steady'. Did you mean 'steady'?"),
        message);
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "chamber temperature: [-20 degC, 75 degC]|chamber temperature: [-20 degC, 50 degC]|60 degC"
            + " is asked for; expected from -20 degC to 50 degC, the interlock on the chamber"
            + " temperature",
        "unit temperature: [-20 degC, 75 degC]|unit temperature: [-20 degC, 55 degC]|60 degC is"
            + " asked for; expected from -20 degC to 55 degC, the interlock on the unit"
            + " temperature",
        "supply: {at most: {voltage: 60 V, current: 100 mA}}|supply: {}|nothing says how far the"
            + " supply 'supply' may go; expected 'at most: {voltage: 30 V, current: 100 mA}', with"
            + " the figures that the unit bears. Write it under 'roles: supply:' of 'supply';"
            + " nothing beyond is ever sent to it.",
        "        between: [-20 degC, 75 degC]|        #|nothing says how far the chamber 'chamber'"
            + " may go; expected 'between: [-20 degC, 70 degC]', with the figures that unit and"
            + " leads bear. Write it",
        "        ramp at most: 3 K/min|        #|expected 'ramp at most: 3 K/min', with",
        "        between: [-20 degC, 75 degC]|        between: [0 degC, 50 degC]|much.yaml:7:13: 60"
            + " degC is asked for; expected from 0 degC to 50 degC, as the chamber 'chamber' is"
            + " allowed. Change the sequence, or the bench file after thinking about it.",
        "{voltage: 60 V, current: 100 mA}|{voltage: 10 V, current: 100 mA}|that the datasheet names"
            + " among its parts is asked for; expected at most 10 V, as 'supply' is allowed",
        "{voltage: 60 V, current: 100 mA}|{voltage: 60 V, current: 0.5 mA}|1 mA from the supply is"
            + " asked for; expected at most 500 uA, as 'supply' is allowed",
        "input at most: 1 kV|input at most: 20 V|the input of the current meter 'ammeter' bears 20"
            + " V, and 60 V, to which the supply 'supply' may be set (bench.yaml:66:5), can come to"
            + " it; expected a meter",
        "terminal voltage: 20 V|terminal voltage: 5 V|6.75 V at the terminals is asked for;"
            + " expected at most 5 V, the interlock on the terminal voltage",
      })
  void aSequenceThatAsksForMoreThanAnInterlockAllowsIsRefused(
      String written, String instead, String expected) {
    String message =
        assertThrows(BadInputException.class, () -> check(written, instead)).getMessage();
    assertTrue(message.contains(expected), message);
  }
}
