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

  /**
   * Nothing is measured for them, and an instrument that takes one question a line stays silent.
   */
  private static final Duration MOST_FOR_SETTINGS = Duration.ofSeconds(3);

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

  /**
   * Carries out exchanges in order, and asks further questions in one line with those at their end.
   *
   * @return the replies to the further ones; empty if there are none or the instrument takes one
   *     question a line
   */
  Optional<List<String>> all(
      List<Exchange> exchanges, Map<String, ?> values, List<String> further) {
    if (further.isEmpty() || !driverConversation.takes(Together.SCPI)) {
      inOrder(exchanges, values);
      return Optional.empty();
    }
    int before = exchanges.size();
    while (before > 0
        && exchanges.get(before - 1) instanceof Exchange.Ask ask
        && ask.hasOneLine()) {
      before--;
    }
    exchanges.subList(0, before).forEach(e -> one(e, values));
    return Optional.of(together(exchanges.subList(before, exchanges.size()), values, further));
  }

  private void inOrder(List<Exchange> exchanges, Map<String, ?> values) {
    for (int from = 0; from < exchanges.size(); ) {
      int to = from + 1;
      while (to < exchanges.size() && mayFollow(exchanges.subList(from, to + 1), values)) {
        to++;
      }
      if (to == from + 1) {
        one(exchanges.get(from), values);
      } else {
        inARow(exchanges.subList(from, to), values);
      }
      from = to;
    }
  }

  /**
   * Whether the last may be sent before the reply to the one before it is known: it changes
   * nothing, since it asks.
   */
  private boolean mayFollow(List<Exchange> row, Map<String, ?> values) {
    Exchange last = row.get(row.size() - 1);
    return driverConversation.takes(Together.LINES)
        && row.stream().allMatch(Exchange::hasOneLine)
        && line(last, driverConversation.with(values)).strip().endsWith("?");
  }

  private static String line(Exchange exchange, Map<String, Object> values) {
    return exchange instanceof Exchange.Confirm confirm
        ? confirm.question().filled(values).text()
        : ((Exchange.Ask) exchange).text().fill(values);
  }

  /** All replies are taken before the first is looked at, so that none is left over. */
  private void inARow(List<Exchange> row, Map<String, ?> values) {
    Map<String, Object> all = driverConversation.with(values);
    List<String> lines = row.stream().map(e -> line(e, all)).toList();
    List<String> replies = driverConversation.askInARow(lines);
    for (int i = 0; i < row.size(); i++) {
      if (row.get(i) instanceof Exchange.Confirm confirm) {
        refuseOther(confirm, replies.get(i), all);
      } else {
        Optional<Pattern> expect = ((Exchange.Ask) row.get(i)).expect().map(e -> e.pattern(all));
        if (!isExpected(expect, replies.get(i))) {
          throw refused(expect, lines.get(i), replies.get(i));
        }
      }
    }
  }

  private List<String> together(
      List<Exchange> ending, Map<String, ?> values, List<String> further) {
    Map<String, Object> all = driverConversation.with(values);
    List<String> questions = new ArrayList<>();
    ending.forEach(e -> questions.add(((Exchange.Ask) e).text().fill(all)));
    questions.addAll(further);
    List<String> replies = units(questions);
    for (int i = 0; i < ending.size(); i++) {
      Exchange.Ask ask = (Exchange.Ask) ending.get(i);
      Optional<Pattern> expect = ask.expect().map(e -> e.pattern(all));
      if (!isExpected(expect, replies.get(i))) {
        throw refused(expect, questions.get(i), replies.get(i));
      }
    }
    return replies.subList(ending.size(), replies.size());
  }

  /** Asks several questions in one line; empty if the instrument takes one question a line. */
  Optional<List<String>> together(List<String> questions) {
    return questions.isEmpty() || !driverConversation.takes(Together.SCPI)
        ? Optional.empty()
        : Optional.of(units(questions));
  }

  private List<String> units(List<String> questions) {
    String line = JoinedQuestions.joined(questions);
    Duration usual = driverConversation.usual();
    Duration within = usual.compareTo(MOST_FOR_SETTINGS) < 0 ? usual : MOST_FOR_SETTINGS;
    String reply = driverConversation.ask(line, within);
    List<String> units = JoinedQuestions.units(reply);
    if (units.size() != questions.size()) {
      throw wrong(line, reply, questions.size() + " replies, separated by semicolons");
    }
    return units;
  }

  private static boolean isExpected(Optional<Pattern> expect, String reply) {
    return expect.isEmpty() || expect.get().matcher(reply).find();
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
      if (isExpected(expect, reply)) {
        return;
      }
      Duration waited = connection.time().elapsed().minus(began);
      if (ask.until().isEmpty() || waited.compareTo(ask.until().get()) >= 0) {
        throw refused(expect, question, reply);
      }
      driverConversation.pause(ask.every());
    }
  }

  private InstrumentException refused(Optional<Pattern> expect, String question, String reply) {
    return refused(
        question,
        complained(question, reply),
        "a reply that matches '" + expect.map(Pattern::pattern).orElse("") + "'");
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
    refuseOther(confirm, whole(confirm.question().filled(values)), values);
  }

  private void refuseOther(Exchange.Confirm confirm, String raw, Map<String, Object> values) {
    NumericQuery.Filled question = confirm.question().filled(values);
    Optional<ReplyUnits.Counted> count = question.count(raw);
    Object wanted = values.get(confirm.placeholder());
    boolean there =
        count.isPresent()
            && wanted instanceof Double set
            && Math.abs(count.get().inBaseUnits() - set)
                <= Math.abs(set) * confirm.ratio() + confirm.absolute();
    if (!there) {
      String number = count.isEmpty() ? "a number that is " : "";
      throw refused(
          question.text(), raw, number + confirm.placeholder() + " " + wanted + " as it was set");
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
