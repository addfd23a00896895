// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;

import java.util.Optional;
import millrace.sim.truth.Kinds;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The meter takes SCPI-1999 strictly. */
class ScpiInterpreterTest {
  private SimLineResponder meter;

  @BeforeEach
  void setMeter() {
    meter = new Rig(Kinds.perfectBench(), Kinds.of(Kinds.ideal("1mA", 5, 5e3))).ammeter;
    Rig.say(meter, "*CLS");
  }

  private String error() {
    return Rig.ask(meter, "SYST:ERR?");
  }

  @ParameterizedTest
  @ValueSource(
      strings = {
        "SENS:CURR:DC:RANG 2E-3",
        "SENSE:CURRENT:DC:RANGE 0.002",
        ":SENS:CURR:RANG 2E-3",
        "curr:rang 2e-3",
        "CONF:CURR:DC 2E-3",
        "CONF:CURR 1.5E-3,1E-9",
        "SENS:CURR:NPLC 10;RANG 2E-3",
        "*CLS;:CURR:RANG 2E-3"
      })
  void everyProperSpellingSetsTheRange(String line) {
    Rig.say(meter, line);
    assertEquals("0,\"No error\"", error(), line);
    assertEquals("+2.00000000E-03", Rig.ask(meter, "CURR:RANG?"));
    assertEquals("0", Rig.ask(meter, "CURR:RANG:AUTO?"));
  }

  @ParameterizedTest
  @CsvSource(
      delimiter = '|',
      value = {
        "SENSO:CURR:RANG 2E-3 | -113",
        "CURRE:RANG 2E-3 | -113",
        "VOLT:RANG 10 | -113",
        "CURR:RANG | -109",
        "CURR:RANG two | -104",
        "CURR:RANG 2,0E-3 | -104",
        "CURR:RANG 5 | -222",
        "CURR:RANG -1 | -222",
        "CURR:NPLC 1000 | -222",
        "CURR:ZERO:AUTO MAYBE | -104",
        "*RST 3 | -108",
        "READ? 5 | -108",
        "SENS:CURR:NPLC 10;SENS:CURR:RANG 2E-3 | -113"
      })
  void whatIsNotProperIsAnErrorAndChangesNothing(String line, String number) {
    assertEquals(Optional.empty(), meter.hear(line));
    assertEquals(number, error().split(",")[0]);
    assertEquals("0,\"No error\"", error());
    assertEquals("+2.00000000E-02", Rig.ask(meter, "CURR:RANG?"));
  }

  @Test
  void errorsQueueFirstInFirstOutAndOverflow() {
    Rig.say(meter, "NONSENSE");
    for (int i = 0; i < 25; i++) {
      Rig.say(meter, "CURR:RANG 5");
    }
    assertEquals("20", Rig.ask(meter, "SYST:ERR:COUN?"));
    assertEquals("-113,\"Undefined header\"", error());
    for (int i = 0; i < 18; i++) {
      assertEquals("-222,\"Data out of range\"", error());
    }
    assertEquals("-350,\"Queue overflow\"", error());
    assertEquals("0,\"No error\"", error());
  }

  @Test
  void statusRegistersTellWhatKindOfErrorThereWas() {
    assertEquals("0", Rig.ask(meter, "*ESR?"));
    Rig.say(meter, "NONSENSE");
    Rig.say(meter, "*ESE 32");
    Rig.say(meter, "*SRE 32");
    assertEquals("100", Rig.ask(meter, "*STB?"), "error queue, event summary, service request");
    assertEquals("32", Rig.ask(meter, "*ESR?"), "command error");
    assertEquals("0", Rig.ask(meter, "*ESR?"), "reading clears it");
    Rig.say(meter, "CURR:RANG 5");
    assertEquals("16", Rig.ask(meter, "*ESR?"), "execution error");
    Rig.say(meter, "*OPC");
    assertEquals("1", Rig.ask(meter, "*ESR?"));
    Rig.say(meter, "*CLS");
    assertEquals("0", Rig.ask(meter, "*STB?"));
  }

  @Test
  void aRestartForgetsSettingsAndSaysSo() {
    Rig.say(meter, "CURR:RANG 2E-3");
    meter.powerOn();
    assertEquals("+2.00000000E-02", Rig.ask(meter, "CURR:RANG?"));
    assertEquals("128", Rig.ask(meter, "*ESR?"));
  }

  @Test
  void severalQuestionsInOneLineAreAnsweredInOne() {
    assertEquals("0;1999.0;\"CURRent\"", Rig.ask(meter, "*TST?;:SYST:VERS?;:CONF?"));
  }

  @Test
  void aReadingBeyondTheRangeIsAnOverload() {
    Rig rig = new Rig(Kinds.perfectBench(), Kinds.of(Kinds.ideal("1mA", 5, 5e3)));
    rig.live("1mA", 100);
    Rig.say(rig.ammeter, "CURR:RANG 2E-6");
    assertEquals("+9.90000000E+37", Rig.ask(rig.ammeter, "READ?"));
    Rig.say(rig.ammeter, "CURR:RANG:AUTO ON");
    assertEquals("+1.00000000E-03", Rig.ask(rig.ammeter, "READ?"));
  }
}
