// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.link.WireText;

/**
 * Carries out the exchanges of a driver file, and checks every reply. The lock of the link keeps it
 * to one conversation at a time.
 */
final class DriverExchangeRunner {
  private static final int MOST_ERRORS = 30;

  private final DriverFile driver;
  private final Connection connection;
  private final DriverConversation driverConversation;

  DriverExchangeRunner(
      DriverFile driver, Connection connection, DriverConversation driverConversation) {
    this.driver = driver;
    this.connection = connection;
    this.driverConversation = driverConversation;
  }

  /** Reads the error queue of the instrument, oldest first. */
  List<String> complaints() {
    List<String> found = new ArrayList<>();
    if (driver.errors().isPresent()) {
      DriverFile.Errors queue = driver.errors().get();
      String question = queue.ask().fill(driverConversation.with(Map.of()));
      String reply = driverConversation.ask(question, driverConversation.usual());
      while (!queue.none().matcher(reply).find() && found.size() < MOST_ERRORS) {
        found.add(reply.strip());
        reply = driverConversation.ask(question, driverConversation.usual());
      }
    }
    return found;
  }

  /** Carries out one exchange; an unexpected reply is an error. */
  void one(Exchange exchange, Map<String, ?> values) {
    Map<String, Object> all = driverConversation.with(values);
    if (exchange instanceof Exchange.Send send) {
      driverConversation.send(send.text().fill(all));
    } else if (exchange instanceof Exchange.Pause pause) {
      driverConversation.pause(pause.span());
    } else if (exchange instanceof Exchange.Ask ask) {
      expected(ask, all);
    } else if (exchange instanceof Exchange.Confirm confirm) {
      confirmed(confirm, all);
    }
  }

  private void expected(Exchange.Ask ask, Map<String, Object> values) {
    String question = ask.text().fill(values);
    Optional<Pattern> expect = ask.expect().map(e -> e.pattern(values));
    Duration began = connection.time().elapsed();
    while (true) {
      String reply =
          driverConversation.ask(
              question, ask.within().orElse(driverConversation.usual()), ask.extent());
      if (expect.isEmpty() || expect.get().matcher(reply).find()) {
        return;
      }
      Duration waited = connection.time().elapsed().minus(began);
      if (ask.until().isEmpty() || waited.compareTo(ask.until().get()) >= 0) {
        throw refused(
            question,
            complained(question, reply),
            "a reply that matches '" + expect.get().pattern() + "'");
      }
      driverConversation.pause(ask.every());
    }
  }

  /**
   * Reads the first error and all that follow it in the queue, so that none is attributed to a
   * later command.
   */
  private String complained(String question, String reply) {
    boolean queue =
        driver
            .errors()
            .filter(q -> q.ask().fill(driverConversation.with(Map.of())).equals(question))
            .isPresent();
    return queue ? String.join(", ", complaintsFrom(reply)) : reply;
  }

  private List<String> complaintsFrom(String first) {
    List<String> all = new ArrayList<>(List.of(first));
    all.addAll(complaints());
    return all;
  }

  private void confirmed(Exchange.Confirm confirm, Map<String, Object> values) {
    NumericQuery.Filled question = confirm.question().filled(values);
    String text = question.text();
    String raw = whole(question);
    Optional<ReplyUnits.Counted> count = question.count(raw);
    Object wanted = values.get(confirm.placeholder());
    boolean there =
        count.isPresent()
            && wanted instanceof Double set
            && Math.abs(count.get().inBaseUnits() - set)
                <= Math.abs(set) * confirm.ratio() + confirm.absolute();
    if (!there) {
      String number = count.isEmpty() ? "a number that is " : "";
      throw refused(text, raw, number + confirm.placeholder() + " " + wanted + " as it was set");
    }
  }

  private InstrumentException refused(String question, String reply, String expected) {
    return new InstrumentException(
        driverConversation
            .trouble(
                Kind.REFUSED,
                "answered %s to %s".formatted(WireText.quoted(reply), WireText.quoted(question)))
            .with(expected, "Check the instrument's display.")
            .with(new Asked(question, reply, Duration.ZERO)));
  }

  InstrumentException wrong(String question, String reply, String expected) {
    driverConversation.link().resynchronize();
    return new InstrumentException(
        driverConversation
            .trouble(
                Kind.WRONG_REPLY,
                "answered %s to %s".formatted(WireText.quoted(reply), WireText.quoted(question)))
            .with(expected, "Check that the driver is meant for it.")
            .with(new Asked(question, reply, Duration.ZERO)));
  }

  /** Asks for a number and gives its whole reply. */
  String whole(NumericQuery.Filled filled) {
    NumericQuery question = filled.question();
    Duration within = question.within().orElse(driverConversation.usual());
    return driverConversation.ask(filled.text(), within, question.extent());
  }
}
