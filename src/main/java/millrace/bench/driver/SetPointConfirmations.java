// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Kind;

/**
 * Keeps the query that confirmed each setting, so that the setting can be checked again later. The
 * lock of the link keeps it to one conversation at a time.
 */
final class SetPointConfirmations {
  private final DriverFile driver;
  private final DriverConversation driverConversation;
  private final DriverExchangeRunner driverExchangeRunner;
  private final Map<String, Confirmed> confirmed = new LinkedHashMap<>();

  /** A query with the value that was set, and the connection on which it was set. */
  private record Confirmed(RoleName role, Exchange exchange, Map<String, ?> values, int epoch) {}

  SetPointConfirmations(
      DriverFile driver,
      DriverConversation driverConversation,
      DriverExchangeRunner driverExchangeRunner) {
    this.driver = driver;
    this.driverConversation = driverConversation;
    this.driverExchangeRunner = driverExchangeRunner;
  }

  /** The last action on a setting counts: on or off, this or that resistance. */
  void done(RoleName role, String action, List<Exchange> exchanges, Map<String, ?> values) {
    String kind = role.text() + " " + DriverConversation.kind(action);
    Optional<Exchange> last =
        exchanges.isEmpty()
            ? Optional.empty()
            : Optional.of(exchanges.get(exchanges.size() - 1)).filter(e -> asksBack(e, values));
    confirmed.remove(kind);
    last.ifPresent(
        e ->
            confirmed.put(
                kind, new Confirmed(role, e, Map.copyOf(values), driverConversation.epoch())));
  }

  /**
   * Queries end with a question mark (IEEE 488.2); a reading of the error queue confirms no
   * setting.
   */
  private boolean asksBack(Exchange exchange, Map<String, ?> values) {
    if (exchange instanceof Exchange.Ask ask) {
      String question = ask.text().fill(driverConversation.with(values)).strip();
      return question.endsWith("?")
          && ask.expect().isPresent()
          && driver
              .errors()
              .filter(e -> question.equals(e.ask().fill(driverConversation.with(Map.of()))))
              .isEmpty();
    }
    return exchange instanceof Exchange.Confirm;
  }

  /** Settings that changed; those made before the link was reopened are not checked. */
  Optional<String> changed() {
    for (Confirmed each : List.copyOf(confirmed.values())) {
      if (each.epoch() == driverConversation.epoch()) {
        // A single garbled reply does not count as a change.
        Optional<String> found = differs(each).flatMap(first -> differs(each));
        if (found.isPresent()) {
          return found;
        }
      }
    }
    return Optional.empty();
  }

  private Optional<String> differs(Confirmed each) {
    try {
      driverExchangeRunner.one(each.exchange(), each.values());
      return Optional.empty();
    } catch (InstrumentException e) {
      InstrumentException named = driverConversation.named(e, each.role().text());
      if (e.trouble().filter(t -> t.kind() == Kind.REFUSED).isEmpty()) {
        throw named;
      }
      return Optional.of(
          named
              .trouble()
              .map(t -> "%s %s; expected %s".formatted(t.instrument(), t.found(), t.expected()))
              .orElseThrow());
    }
  }
}
