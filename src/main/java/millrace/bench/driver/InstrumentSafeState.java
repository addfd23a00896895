// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.concurrent.atomic.AtomicBoolean;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.SafeStateAssurance;
import millrace.fault.InstrumentException;
import millrace.link.LinkTimeouts;
import millrace.time.SystemClock;

/**
 * Brings one instrument into its safe state, whatever it answers. All safe commands of its driver
 * are sent, first in the normal way with every reply checked. If anything is wrong, all of them are
 * also sent blind, that is without an identity check, without resynchronizing and without regard to
 * replies, over the old connection and over a new one; then in the normal way again. It counts as
 * safe when all lines were answered correctly in one pass. One thread.
 */
final class InstrumentSafeState {
  /** How long a conversation of another thread may continue. */
  private static final Duration PATIENCE = Duration.ofMillis(500);

  /** How long to wait for a reply that is ignored anyway. */
  private static final Duration BLIND_WAIT = Duration.ofMillis(200);

  private static final Duration BETWEEN_TRIES = Duration.ofMillis(100);
  private static final int MOST_TRIES = 6;
  private static final int MOST_ROUNDS = 4;
  private static final int SHARES = 4;

  private final DriverFile driver;
  private final Connection connection;
  private final LinkTimeouts usual;
  private final List<InstrumentException> troubles = new ArrayList<>();

  InstrumentSafeState(DriverFile driver, Connection connection) {
    this.driver = driver;
    this.connection = connection;
    this.usual = driver.speech().timing();
  }

  /** Its time-outs shrink with the time left. */
  private final class Mouth {
    private final DriverConversation driverConversation;
    private final DriverExchangeRunner driverExchangeRunner;
    private final Duration longest;
    private final SystemClock.Deadline deadline;

    Mouth(SystemClock.Deadline deadline) {
      this.deadline = deadline;
      this.longest = atLeast(BLIND_WAIT, deadline.left().dividedBy(SHARES));
      LinkTimeouts hurried =
          new LinkTimeouts(
              shorter(usual.connect(), longest),
              shorter(usual.reply(), longest),
              usual.quiet(),
              LinkTimeouts.Reopening.ONCE);
      this.driverConversation = new DriverConversation(driver, connection, hurried);
      this.driverExchangeRunner = new DriverExchangeRunner(driver, connection, driverConversation);
    }

    /**
     * Sends one line after another and releases the link between them, so that other instruments on
     * it get their turn.
     */
    boolean tries(Runnable what) {
      try {
        driverConversation
            .link()
            .takingOver(
                PATIENCE,
                atLeast(PATIENCE, deadline.left()),
                () -> {
                  what.run();
                  return Boolean.TRUE;
                });
        return true;
      } catch (InstrumentException e) {
        troubles.add(driverConversation.named(e, ""));
        return false;
      }
    }

    private boolean inStep() {
      AtomicBoolean inStep = new AtomicBoolean();
      tries(() -> inStep.set(driverConversation.link().inStep()));
      return inStep.get();
    }

    /** Sends lines until one is not answered correctly. */
    boolean asAlways() {
      for (Exchange each : driver.safe()) {
        if (!tries(() -> driverExchangeRunner.one(inTime(each), Map.of()))) {
          return false;
        }
      }
      return true;
    }

    private Exchange inTime(Exchange each) {
      if (each instanceof Exchange.Ask ask) {
        return new Exchange.Ask(
            ask.text(),
            ask.expect(),
            ask.until().map(span -> shorter(span, longest)),
            shorter(ask.every(), longest),
            ask.within().map(span -> shorter(span, longest)),
            ask.extent());
      }
      return each instanceof Exchange.Pause pause
          ? new Exchange.Pause(shorter(pause.span(), longest))
          : each;
    }

    /**
     * Sends all lines over one connection, which may be the old one, or each over a new one where
     * connections can be made, so that a connection that breaks at one line does not lose the next.
     * Afterwards the connection is dropped.
     */
    void blind(boolean fresh) {
      for (Exchange each : driver.safe()) {
        if (each instanceof Exchange.Pause pause) {
          driverConversation.pause(shorter(pause.span(), longest));
          continue;
        }
        if (fresh) {
          tries(driverConversation.link()::resynchronize);
        }
        blind(text(each));
      }
      tries(driverConversation.link()::resynchronize);
    }

    /** A connection that is refused may be accepted a moment later. */
    private void blind(String line) {
      for (int left = MOST_TRIES; left > 0 && !deadline.passed(); left--) {
        if (tries(() -> driverConversation.sayBlind(line, BLIND_WAIT))) {
          return;
        }
        rest();
      }
    }

    private String text(Exchange each) {
      Map<String, Object> settings = driverConversation.with(Map.of());
      if (each instanceof Exchange.Send send) {
        return send.text().fill(settings);
      }
      return each instanceof Exchange.Ask ask
          ? ask.text().fill(settings)
          : ((Exchange.Confirm) each).question().filled(settings).text();
    }
  }

  /**
   * Makes it safe.
   *
   * @param within how long it may take, real time
   * @param before the identity that answered so far; empty if none was asked
   * @param epoch the connection on which that one answered
   * @return how it is known
   * @throws InstrumentException if it could not be confirmed; every line was sent nevertheless, if
   *     there was a link
   */
  SafeStateAssurance reach(Duration within, Optional<String> before, int epoch) {
    if (driver.safe().isEmpty()) {
      return SafeStateAssurance.NOTHING_TO_DO;
    }
    SystemClock.Deadline deadline = SystemClock.deadline(within);
    SystemClock.Deadline lastRound = SystemClock.deadline(within.dividedBy(2));
    for (int round = 1; round <= MOST_ROUNDS && !lastRound.passed(); round++) {
      Mouth mouth = new Mouth(deadline);
      if (!mouth.inStep()) {
        mouth.blind(false); // resynchronizing may take long, and may fail
      }
      if (mouth.asAlways()
          && mouth.tries(() -> refuseAnother(mouth.driverConversation, before, epoch))) {
        return assurance();
      }
      mouth.blind(false);
      mouth.blind(true);
    }
    InstrumentException first = troubles.get(0);
    troubles.stream().skip(1).forEach(first::addSuppressed);
    throw first;
  }

  /** On a connection that was opened since then another instrument may be answering. */
  private static void refuseAnother(
      DriverConversation driverConversation, Optional<String> before, int epoch) {
    if (driverConversation.link().epoch() != epoch) {
      driverConversation.refuseAnother(before);
    }
  }

  private SafeStateAssurance assurance() {
    boolean asks = driver.safe().stream().anyMatch(InstrumentSafeState::tells);
    return asks ? SafeStateAssurance.READ_BACK : SafeStateAssurance.SENT;
  }

  private static boolean tells(Exchange each) {
    return each instanceof Exchange.Confirm
        || (each instanceof Exchange.Ask ask && ask.expect().isPresent());
  }

  /** Real time, as links count it. */
  private static void rest() {
    try {
      new SystemClock().sleep(BETWEEN_TRIES);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
    }
  }

  private static Duration shorter(Duration a, Duration b) {
    return a.compareTo(b) < 0 ? a : b;
  }

  private static Duration atLeast(Duration least, Duration b) {
    return b.compareTo(least) < 0 ? least : b;
  }
}
