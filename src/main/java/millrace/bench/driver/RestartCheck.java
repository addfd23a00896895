// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.time.Duration;
import java.util.Map;
import java.util.OptionalDouble;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.quantity.NumberText;

/** Asks an instrument whether it was switched off and on. */
final class RestartCheck {
  private final DriverFile.Restart restart;
  private final DriverConversation driverConversation;
  private final DriverExchangeRunner driverExchangeRunner;

  RestartCheck(
      DriverFile.Restart restart,
      DriverConversation driverConversation,
      DriverExchangeRunner driverExchangeRunner) {
    this.restart = restart;
    this.driverConversation = driverConversation;
    this.driverExchangeRunner = driverExchangeRunner;
  }

  /** The question for its events. */
  String question() {
    return restart.ask().fill(driverConversation.with(Map.of()));
  }

  /** Asks; refuses what was read before if it was. */
  void ask() {
    String question = question();
    String reply = driverConversation.ask(question, driverConversation.usual());
    OptionalDouble events = events(reply);
    if (events.isEmpty()) {
      throw driverExchangeRunner.wrong(question, reply, "a whole number");
    }
    refuse(events.getAsDouble(), question, reply);
  }

  /** The events in a reply; empty if it is no number. */
  static OptionalDouble events(String reply) {
    return NumberText.parse(reply.strip());
  }

  /** Refuses what was read before if the bit is among the events. */
  void refuse(double events, String question, String reply) {
    if (((long) events >> restart.bit() & 1) == 1) {
      driverConversation.link().resynchronize();
      throw new InstrumentException(
          driverConversation
              .trouble(Kind.BROKEN, "the instrument was switched off and on")
              .with("", "Everything has to be set again; check its mains cable.")
              .with(new Asked(question, reply, Duration.ZERO)));
    }
  }
}
