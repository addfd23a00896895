// SPDX-License-Identifier: Apache-2.0
package millrace.sim;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.net.ConnectException;
import java.time.Duration;
import java.time.Instant;
import java.util.List;
import java.util.stream.Stream;
import millrace.quantity.NumberText;
import millrace.sim.fault.FaultPlan;
import millrace.sim.fault.SimFault;
import millrace.sim.fault.SimFault.AtQuestion;
import millrace.sim.fault.SimFault.AtTime;
import millrace.sim.fault.SimFault.Kind;
import millrace.time.Seeds;
import millrace.time.SystemClock;
import millrace.time.VirtualClock;
import org.junit.jupiter.api.AutoClose;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.Timeout;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.Arguments;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.MethodSource;

/** Every fault that a plan can hold, as a client sees it, and that it ends. */
@Timeout(60)
class SimulatedFaultsIT {
  private static final Instant START = Instant.parse("2026-11-25T18:00:00Z");

  private final VirtualClock clock = new VirtualClock(START);
  @AutoClose private SimulatedBench bench;

  private SimulatedBench bench(SimFault... faults) {
    SimulatedBench.Settings settings = SimulatedBench.Settings.demo(new Seeds(1));
    bench = SimulatedBench.start(settings.with(FaultPlan.of(faults)), clock);
    return bench;
  }

  private SimulatedBench meterFaults(Kind kind) {
    return bench(SimFault.of(kind, "ammeter", new AtQuestion(2)));
  }

  private void assertStruck(Kind... kinds) {
    assertEquals(List.of(kinds), bench.struck().stream().map(s -> s.fault().kind()).toList());
  }

  static Stream<Arguments> replies() {
    return Stream.of(
        Arguments.of(Kind.SILENCE, "", "1999.0\n"),
        Arguments.of(Kind.HALF_A_LINE, "199", "1999.0\n"),
        Arguments.of(Kind.TWO_REPLIES, "1999.0\n1999.0\n", "1999.0\n"),
        Arguments.of(Kind.ENDS_WITH_CR, "1999.0\r", "1999.0\n"),
        Arguments.of(Kind.ENDS_WITH_LF, "1999.0\n", "1999.0\n"),
        Arguments.of(Kind.ENDS_WITH_CRLF, "1999.0\r\n", "1999.0\n"),
        Arguments.of(Kind.ENDS_WITH_NOTHING, "1999.0", "1999.0\n"));
  }

  @ParameterizedTest
  @MethodSource("replies")
  void aSpoiltReplyIsWhatItsKindSaysAndTheNextIsGood(Kind kind, String spoilt, String next)
      throws IOException {
    try (Client client = new Client(meterFaults(kind), "ammeter")) {
      assertEquals("1999.0\n", client.ask("SYST:VERS?"));
      client.say("SYST:VERS?");
      assertEquals(spoilt, client.hearAll());
      assertEquals(next, client.ask("SYST:VERS?"));
      assertStruck(kind);
    }
  }

  @ParameterizedTest
  @EnumSource(names = {"OVERLOAD", "NOT_A_NUMBER", "DECIMAL_COMMA", "WILD_READING"})
  void aSpoiltReadingWaitsForAReading(Kind kind) throws IOException {
    try (Client client = new Client(meterFaults(kind), "ammeter")) {
      client.ask("*IDN?");
      assertEquals("0\n", client.ask("*TST?"));
      assertStruck();
      String spoilt = client.ask("READ?");
      switch (kind) {
        case OVERLOAD -> assertEquals("+9.90000000E+37\n", spoilt);
        case NOT_A_NUMBER -> assertEquals("+9.91000000E+37\n", spoilt);
        case DECIMAL_COMMA -> assertTrue(spoilt.matches("[+-]\\d,\\d{8}E-\\d\\d\n"), spoilt);
        default -> assertTrue(spoilt.matches("[+-]\\d\\.\\d{8}E-\\d\\d\n"), spoilt);
      }
      assertStruck(kind);
    }
  }

  @Test
  void aWildTemperatureKeepsItsUnit() throws IOException {
    SimFault wild =
        new SimFault(Kind.WILD_READING, "thermometer", new AtQuestion(1), 1, 1, Duration.ZERO);
    try (Client client = new Client(bench(wild), "thermometer")) {
      assertTrue(client.ask("TEMP?").matches("\\+4\\.[56]\\d*E\\+01 C\n"));
      assertTrue(client.ask("TEMP?").matches("2[23]\\.\\d{3} C\n"));
    }
  }

  @Test
  void aLateReplyComesInTheEnd() throws IOException {
    SimFault late =
        new SimFault(Kind.LATE_REPLY, "ammeter", new AtQuestion(1), 1, 0.4, Duration.ZERO);
    try (Client client = new Client(bench(late), "ammeter")) {
      client.say("SYST:VERS?");
      assertEquals("", client.hearAll());
      assertEquals("1999.0\n", client.hear());
    }
  }

  @Test
  void garbageIsALineOfBytesOfAnyValue() throws IOException {
    try (Client client = new Client(meterFaults(Kind.GARBAGE), "ammeter")) {
      client.ask("*TST?");
      String garbage = client.ask("SYST:VERS?");
      assertEquals(41, garbage.length());
      assertTrue(garbage.chars().anyMatch(c -> c > 127));
      assertEquals("1999.0\n", client.ask("SYST:VERS?"));
    }
  }

  @Test
  void aLineWithoutEndIsTenMillionBytesLong() throws IOException {
    try (Client client = new Client(meterFaults(Kind.ENDLESS_LINE), "ammeter")) {
      client.ask("*TST?");
      client.say("SYST:VERS?");
      assertEquals(10_000_000, client.count());
    }
  }

  @Test
  void anotherInstrumentAnswersOnlyToTheQuestionWhoItIs() throws IOException {
    try (Client client = new Client(meterFaults(Kind.WRONG_IDENTITY), "ammeter")) {
      client.ask("*TST?");
      assertEquals("1999.0\n", client.ask("SYST:VERS?"));
      assertFalse(client.ask("*IDN?").contains("SIMULATED"));
      assertTrue(client.ask("*IDN?").contains("SIMULATED"));
    }
  }

  @Test
  void aFullErrorQueueOverflows() throws IOException {
    try (Client client = new Client(meterFaults(Kind.ERROR_QUEUE), "ammeter")) {
      client.ask("*TST?");
      assertEquals("1999.0\n", client.ask("SYST:VERS?"));
      assertEquals("20\n", client.ask("SYST:ERR:COUN?"));
      assertEquals("-310,\"System error\"\n", client.ask("SYST:ERR?"));
    }
  }

  @Test
  void aRefusedConnectionIsServedAgainAfterAWhile() throws Exception {
    SimFault refused =
        new SimFault(Kind.REFUSED, "ammeter", new AtQuestion(1), 1, 0.5, Duration.ZERO);
    try (Client client = new Client(bench(refused), "ammeter")) {
      client.say("*IDN?");
      assertThrows(IOException.class, client::hear);
    }
    assertThrows(ConnectException.class, () -> new Client(bench, "ammeter"));
    try (Client client = patiently("ammeter")) {
      assertEquals("1999.0\n", client.ask("SYST:VERS?"));
    }
  }

  private Client patiently(String instrument) throws Exception {
    SystemClock.Deadline deadline = SystemClock.deadline(Duration.ofSeconds(20));
    while (true) {
      try {
        return new Client(bench, instrument);
      } catch (ConnectException stillRefused) {
        if (deadline.passed()) {
          throw stillRefused;
        }
        new SystemClock().sleep(Duration.ofMillis(20));
      }
    }
  }

  @Test
  void aResetConnectionCanBeOpenedAgain() throws IOException {
    try (Client client = new Client(meterFaults(Kind.RESET), "ammeter")) {
      client.ask("*TST?");
      client.say("SYST:VERS?");
      assertThrows(IOException.class, client::hear);
    }
    try (Client client = new Client(bench, "ammeter")) {
      assertEquals("1999.0\n", client.ask("SYST:VERS?"));
    }
  }

  @Test
  void aHalfOpenConnectionTakesEverythingAndAnswersNothing() throws IOException {
    try (Client client = new Client(meterFaults(Kind.HALF_OPEN), "ammeter");
        Client another = new Client(bench, "ammeter")) {
      client.ask("*TST?");
      client.say("SYST:VERS?");
      client.say("SYST:VERS?");
      assertEquals("", client.hearAll());
      assertEquals("1999.0\n", another.ask("SYST:VERS?"));
    }
  }

  @Test
  void aRebootForgetsTheSettingsAndIsNoMishap() throws Exception {
    bench(SimFault.of(Kind.REBOOT, "supply", new AtQuestion(3)));
    try (Client client = new Client(bench, "supply")) {
      client.say("VOLT 18");
      client.say("OUTP ON");
      client.say("OUTP?");
      assertThrows(IOException.class, client::hear);
    }
    try (Client client = patiently("supply")) {
      assertEquals("128\n", client.ask("*ESR?"), "power on");
      assertEquals("0\n", client.ask("OUTP?"));
    }
    assertEquals(List.of(), bench.mistreatments());
  }

  @Test
  void aFaultStrikesAsOftenAsItIsTold() throws Exception {
    SimFault thrice =
        new SimFault(
            Kind.ENDS_WITH_CRLF, "load", new AtTime(Duration.ofHours(1)), 3, 1, Duration.ZERO);
    bench(thrice);
    try (Client client = new Client(bench, "load")) {
      assertEquals("0\n", client.ask("R?"));
      clock.sleep(Duration.ofHours(1));
      for (int i = 0; i < 3; i++) {
        assertEquals("0\r\n", client.ask("R?"));
      }
      assertEquals("0\n", client.ask("R?"));
    }
  }

  @Test
  void aChamberSticksAndComesLoose() throws Exception {
    bench(
        new SimFault(
            Kind.CHAMBER_STUCK,
            "chamber",
            new AtTime(Duration.ofMinutes(1)),
            1,
            1,
            Duration.ofHours(3)));
    try (Client client = new Client(bench, "chamber")) {
      client.ask("SET 60");
      clock.sleep(Duration.ofHours(3));
      assertEquals(26, bench.unitDegC("1"), 0.6, "a minute at 3 K/min");
      clock.sleep(Duration.ofHours(3));
      assertEquals(60, bench.unitDegC("1"), 0.6);
    }
    assertStruck(Kind.CHAMBER_STUCK);
  }

  @Test
  void aSensorThatIsOffShowsWhatIsNot() throws Exception {
    bench(
        new SimFault(
            Kind.SENSOR_OFFSET,
            "thermometer",
            new AtTime(Duration.ofHours(1)),
            1,
            5,
            Duration.ofHours(1)));
    try (Client client = new Client(bench, "thermometer")) {
      assertTrue(client.ask("TEMP?").matches("2[23]\\..*\n"));
      clock.sleep(Duration.ofMinutes(61));
      assertTrue(client.ask("TEMP?").matches("2[78]\\..*\n"));
      clock.sleep(Duration.ofMinutes(61));
      assertTrue(client.ask("TEMP?").matches("2[23]\\..*\n"));
    }
  }

  @Test
  void aUnitThatDiesGivesNoCurrent() throws Exception {
    bench(SimFault.of(Kind.UNIT_DIES, "selector", new AtTime(Duration.ofMinutes(1))));
    try (Client supply = new Client(bench, "supply");
        Client selector = new Client(bench, "selector");
        Client ammeter = new Client(bench, "ammeter")) {
      supply.say("VOLT 18;:OUTP ON");
      supply.ask("*OPC?");
      selector.ask("RANGE 1mA");
      selector.ask("SOURCE ON");
      assertTrue(ammeter.ask("READ?").matches("\\+(9\\.99|1\\.00).*E-0[34]\n"));
      clock.sleep(Duration.ofMinutes(1));
      assertTrue(ammeter.ask("READ?").matches("[+-].*E-(0[6789]|1\\d)\n"));
    }
  }

  @Test
  void aClockJumpMovesTheWallClockOnly() throws Exception {
    bench(
        new SimFault(
            Kind.CLOCK_JUMP, "switch", new AtTime(Duration.ofHours(1)), 1, -1800, Duration.ZERO));
    try (Client client = new Client(bench, "chamber")) {
      clock.sleep(Duration.ofHours(2));
      client.ask("TEMP?");
      assertEquals(START.plus(Duration.ofMinutes(90)), clock.now());
      assertEquals(Duration.ofHours(2), clock.elapsed());
    }
  }

  @Test
  void anOvershootingChamberGoesFarther() throws Exception {
    bench(SimFault.of(Kind.CHAMBER_OVERSHOOTS, "chamber", new AtTime(Duration.ZERO)));
    try (Client client = new Client(bench, "chamber")) {
      client.ask("SET 50");
      double highest = 0;
      for (int i = 0; i < 60; i++) {
        clock.sleep(Duration.ofSeconds(30));
        String shown = client.ask("TEMP?").strip();
        highest = Math.max(highest, NumberText.parse(shown).orElseThrow());
      }
      assertEquals(57.5, highest, 0.3, "6 K more than the usual 1.5 K");
    }
  }
}
