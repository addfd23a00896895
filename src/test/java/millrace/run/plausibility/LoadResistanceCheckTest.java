// SPDX-License-Identifier: Apache-2.0
package millrace.run.plausibility;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.nio.charset.StandardCharsets;
import java.util.Optional;
import millrace.bench.BenchFile;
import millrace.bench.BenchForms;
import millrace.run.plausibility.LoadResistanceCheck.Mean;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Voltage over current against the setting. Expected uncertainties by hand: 1 mA on 2 mA: 25 ppm +
 * 2 x 4 ppm = 33 nA; 1 V on 2 V: 20 ppm + 2 x 3 ppm = 26 uV; 1 kohm: 200 ppm + 20 mohm = 220 mohm;
 * each over sqrt(3), together 0.131 ohm.
 */
class LoadResistanceCheckTest {
  private static BenchFile bench(String load, String place) {
    String text =
        """
        bench: b
        line frequency: 50 Hz
        instruments:
          a:
            driver: scpi meter
            address: tcp 127.0.0.1:1
            roles: {current meter: {accuracy: [{range: 2 mA, reading: 25 ppm, full scale: 4 ppm, burden: 5 ohm, burden uncertainty: 0.6 %}]}}
          v:
            driver: scpi meter
            address: tcp 127.0.0.1:2
            roles: {voltmeter: {accuracy: [{reading: 20 ppm, full scale: 3 ppm, input resistance: 10 Mohm, input resistance uncertainty: 1 %}]}}
          l:
            driver: plain decade load
            address: tcp 127.0.0.1:3
            roles: {load: {LOAD}}
        wiring: {voltmeter: PLACE}
        """
            .replace("{LOAD}", load)
            .replace("PLACE", place);
    return BenchForms.read("b.yaml", text.getBytes(StandardCharsets.UTF_8));
  }

  private static Optional<String> at(BenchFile bench, double volts) {
    return LoadResistanceCheck.trouble(bench, 1000, new Mean(1e-3, 0, 2e-3), new Mean(volts, 0, 2));
  }

  @ParameterizedTest
  @CsvSource({"0.9999, false", "0.99955, false", "1.00025, false", "0.9994, true", "1.0004, true"})
  void whatIsApartByMoreThanThreeUncertaintiesIsTold(double volts, boolean apart) {
    BenchFile bench = bench("{accuracy: [{reading: 200 ppm, absolute: 20 mohm}]}", "across load");
    assertEquals(apart, at(bench, volts).isPresent());
  }

  @Test
  void theMessageSaysFoundExpectedAndWhatToDo() {
    BenchFile bench = bench("{accuracy: [{reading: 200 ppm, absolute: 20 mohm}]}", "across load");
    assertEquals(
        "voltage over current gives 1.10000 kohm; expected 999.900 ohm within 390 mohm from the"
            + " setting of the load. Look for a stuck relay or a lead on the wrong decade, then for"
            + " a meter on the wrong range.",
        at(bench, 1.1).orElseThrow());
  }

  @Test
  void aCalibratedValueCountsInsteadOfTheSetting() {
    BenchFile bench =
        bench("{values: [{nominal: 1 kohm, value: 1.01 kohm, u: 1 mohm}]}", "across load");
    assertEquals(Optional.empty(), at(bench, 1.0099));
    assertTrue(at(bench, 1.0).isPresent());
  }

  @Test
  void upstreamTheBurdenOfTheMeterBelongsToIt() {
    BenchFile bench = bench("{accuracy: [{reading: 200 ppm}]}", "upstream");
    assertEquals(Optional.empty(), at(bench, 1.005));
    assertTrue(at(bench, 1.0).isPresent());
  }

  @Test
  void aLoadOfWhichNothingIsStatedIsNotJudged() {
    assertEquals(Optional.empty(), at(bench("{}", "across load"), 2));
  }

  /** The load alone where the burden of 5 ohm belongs to it, and the other way round. */
  @ParameterizedTest
  @CsvSource({
    "upstream, 0.9999, sit across the load",
    "across load, 1.0049, sit upstream",
    "upstream, 1.02, ''",
  })
  void aVoltmeterThatSitsWhereTheBenchFileDoesNotSayIsNamed(
      String place, double volts, String named) {
    BenchFile bench = bench("{accuracy: [{reading: 200 ppm, absolute: 20 mohm}]}", place);
    String text = at(bench, volts).orElseThrow();
    assertEquals(!named.isEmpty(), text.contains("the voltmeter seems to"), text);
    assertTrue(text.contains(named), text);
  }

  /** 100 kohm beside 1 Mohm are 90.909 kohm. */
  @Test
  void anInputThatTheBenchFileDoesNotStateIsNamed() {
    BenchFile bench = bench("{accuracy: [{reading: 200 ppm, absolute: 20 mohm}]}", "across load");
    String text =
        LoadResistanceCheck.trouble(bench, 1e5, new Mean(1e-5, 0, 2e-3), new Mean(0.90909, 0, 2))
            .orElse("nothing");
    assertTrue(text.contains("A voltmeter input of"), text);
  }
}
