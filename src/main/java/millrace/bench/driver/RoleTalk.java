// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Matcher;
import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.TreeSet;
import java.util.stream.Stream;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.document.FileMessageText;
import millrace.evidence.setting.MeterSettings;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.link.ExclusiveLinkUse;

/**
 * Sends the commands and queries of the roles of one instrument. May be used by several threads;
 * the link keeps their conversations apart.
 */
final class RoleTalk {
  /** A whole number as IEEE 488.2 writes it (NR1): two readings are no reading and its events. */
  private static final Pattern WHOLE = Pattern.compile("[+]?[0-9]{1,10}");

  private final DriverFile driver;
  private final Connection connection;
  private final DriverConversation driverConversation;
  private final DriverExchangeRunner driverExchangeRunner;
  private final SetPointConfirmations setPointConfirmations;

  private final Optional<RestartCheck> restart;
  private final KnownSettings known;

  /** Errors that were in the queue when the link was opened; guarded by the link's lock. */
  private final List<String> stale = new ArrayList<>();

  RoleTalk(DriverFile driver, Connection connection, DriverConversation driverConversation) {
    this.driver = driver;
    this.connection = connection;
    this.driverConversation = driverConversation;
    this.driverExchangeRunner = new DriverExchangeRunner(driver, connection, driverConversation);
    this.setPointConfirmations =
        new SetPointConfirmations(driver, driverConversation, driverExchangeRunner);
    this.restart =
        driver.restart().map(r -> new RestartCheck(r, driverConversation, driverExchangeRunner));
    this.known = new KnownSettings(connection.time());
  }

  private String name() {
    return connection.name();
  }

  /**
   * Carries out the exchanges of an action in order; nothing is sent unless all of them can be
   * written.
   */
  void perform(RoleName role, String action, List<Exchange> exchanges, Map<String, ?> values) {
    perform(role, action, exchanges, values, List.of());
  }

  /**
   * The same, and further questions in one line with those that end the action.
   *
   * @return the replies to them; empty if the instrument takes one question a line
   */
  Optional<List<String>> perform(
      RoleName role,
      String action,
      List<Exchange> exchanges,
      Map<String, ?> values,
      List<String> further) {
    try {
      return driverConversation
          .link()
          .exclusively(
              () -> {
                ready();
                driverConversation.vouched(false);
                Optional<List<String>> replies =
                    orOneByOne(() -> driverExchangeRunner.all(exchanges, values, further));
                driverConversation.noteSet(role, action);
                setPointConfirmations.done(role, action, exchanges, values);
                return replies;
              });
    } catch (InstrumentException e) {
      throw driverConversation.named(e, role.text());
    } catch (IllegalArgumentException e) {
      throw new InstrumentException(
          driverConversation
              .trouble(Kind.REFUSED, "cannot " + action + ": " + e.getMessage())
              .named(role.text() + " '" + name() + "'"),
          e);
    }
  }

  /** Prepares the instrument: identity, opening lines, old errors read from the queue. */
  void ready() {
    driverConversation.ready(
        exchanges -> {
          exchanges.forEach(e -> driverExchangeRunner.one(e, Map.of()));
          stale.addAll(driverExchangeRunner.complaints());
        });
  }

  /** Errors from before the link was opened, each reported once. */
  List<String> staleComplaints() {
    List<String> all = List.copyOf(stale);
    stale.clear();
    return all;
  }

  /** The errors in the queue now. */
  List<String> complaints() {
    return driverExchangeRunner.complaints();
  }

  /** Settings that no longer are as they were set; empty if there are none. */
  Optional<String> changed() {
    known.forget();
    return setPointConfirmations.changed();
  }

  /** What its meters said their settings are. */
  KnownSettings known() {
    return known;
  }

  /** What a meter said its settings are, over the connection that there is. */
  Optional<MeterSettings> knownSettings(RoleName role) {
    return known.of(role, driverConversation.link().epoch());
  }

  /** Keeps what a meter has just said its settings are. */
  void remember(RoleName role, MeterSettings settings) {
    known.remember(role, settings, driverConversation.epoch());
  }

  /**
   * Refuses readings if the instrument was switched off and on since they were taken. Nothing is
   * asked where it was asked with the last of them.
   */
  void refuseRestart() {
    if (!driverConversation.takeVouched()) {
      restart.ifPresent(RestartCheck::ask);
    }
  }

  /** An error that says which reply was expected. */
  InstrumentException wrong(String question, String reply, String expected) {
    return driverExchangeRunner.wrong(question, reply, expected);
  }

  /** Asks for a number in a role. */
  Reply number(RoleName role, NumericQuery.Filled question) {
    return spoken(
        role,
        () -> {
          driverConversation.refuseDoubt(role);
          driverConversation.vouched(false);
          return asked(question);
        });
  }

  /**
   * The same for the last reading of a point: whether the instrument was switched off and on is
   * asked in the same line where it takes several questions in one.
   */
  Reply last(RoleName role, NumericQuery.Filled question) {
    return spoken(
        role,
        () -> {
          driverConversation.refuseDoubt(role);
          driverConversation.vouched(false);
          return restart.isPresent() && takesTogether(Stream.of(question))
              ? asked(question, restart.get())
              : asked(question);
        });
  }

  private Reply asked(NumericQuery.Filled question, RestartCheck check) {
    String both = JoinedQuestions.joined(List.of(question.text(), check.question()));
    String raw =
        driverConversation.ask(
            both, question.question().within().orElse(driverConversation.usual()));
    List<String> units = JoinedQuestions.units(raw);
    OptionalDouble events =
        units.size() == 2 && WHOLE.matches(units.get(1))
            ? RestartCheck.events(units.get(1))
            : OptionalDouble.empty();
    if (events.isEmpty()) {
      driverConversation.oneByOne(); // asked for by itself before the point is believed
      return understood(question, raw);
    }
    check.refuse(events.getAsDouble(), both, raw);
    driverConversation.vouched(true);
    return understood(question, units.get(0));
  }

  /** Asks several questions in one line; empty if the instrument takes one question a line. */
  Optional<List<String>> together(RoleName role, List<String> questions) {
    return spoken(
        role,
        () -> {
          driverConversation.refuseDoubt(role);
          return orOneByOne(() -> driverExchangeRunner.together(questions));
        });
  }

  /**
   * An instrument that leaves several questions in one line without their replies is asked line by
   * line from then on; the link was opened again, so that a point on its way is repeated.
   */
  private <T> T orOneByOne(ExclusiveLinkUse<T> talk) {
    try {
      return talk.run();
    } catch (InstrumentException e) {
      Optional<Kind> kind = e.trouble().map(InstrumentTrouble::kind);
      if (!driverConversation.takes(Together.SCPI)
          || kind.filter(k -> k == Kind.NO_REPLY || k == Kind.WRONG_REPLY).isEmpty()) {
        throw e;
      }
      ready();
      return talk.run();
    }
  }

  private boolean takesTogether(Stream<NumericQuery.Filled> questions) {
    return driverConversation.takes(Together.SCPI) && isSimple(questions);
  }

  /** Whether their replies are one line each, and not asked for again until they are ready. */
  boolean isSimple(Stream<NumericQuery.Filled> questions) {
    return driver.signs().notReadyReply().isEmpty()
        && questions.allMatch(q -> q.question().extent().equals(ReplyExtent.LINE));
  }

  /** The same, also if settings are in doubt because the link was reopened. */
  Reply glance(RoleName role, NumericQuery.Filled question) {
    return spoken(role, () -> asked(question));
  }

  private <T> T spoken(RoleName role, ExclusiveLinkUse<T> talk) {
    try {
      return driverConversation
          .link()
          .exclusively(
              () -> {
                ready();
                return talk.run();
              });
    } catch (InstrumentException e) {
      throw driverConversation.named(e, role.text());
    }
  }

  /** Asks a chamber whether its door is open. */
  boolean isOpen(Exchange.Door door) {
    return spoken(
        RoleName.CHAMBER,
        () -> {
          String question = door.ask().fill(driverConversation.with(Map.of()));
          String reply = driverConversation.ask(question, driverConversation.usual());
          boolean open = door.open().matcher(reply).find();
          if (open == door.closed().matcher(reply).find()) {
            throw wrong(
                question,
                reply,
                "a reply that matches either '%s' or '%s'"
                    .formatted(door.open().pattern(), door.closed().pattern()));
          }
          return open;
        });
  }

  /** Asks a chamber for its alarm; empty if it has none. */
  Optional<String> alarm(Exchange.Alarm alarm) {
    return spoken(
        RoleName.CHAMBER,
        () -> {
          String reply =
              driverConversation.ask(
                  alarm.ask().fill(driverConversation.with(Map.of())), driverConversation.usual());
          return Optional.of(reply.strip()).filter(r -> !alarm.none().matcher(r).find());
        });
  }

  private Reply asked(NumericQuery.Filled question) {
    String raw = driverExchangeRunner.whole(question);
    if (driver.signs().notReadyReply().isEmpty()) {
      return understood(question, raw);
    }
    Duration began = connection.time().elapsed();
    while (matches(driver.signs().notReadyReply(), raw)) {
      Duration waited = connection.time().elapsed().minus(began);
      if (waited.compareTo(driver.signs().readyWithin()) >= 0) {
        return new Reply.NotReady(raw);
      }
      driverConversation.pause(driver.signs().askAgain());
      raw = driverExchangeRunner.whole(question);
    }
    return understood(question, raw);
  }

  /** What a whole reply means. */
  Reply understood(NumericQuery.Filled question, String raw) {
    if (matches(driver.signs().overloadReply(), raw)) {
      return new Reply.Overload(raw);
    }
    if (matches(driver.signs().noNumberReply(), raw)) {
      return new Reply.NotANumber(raw);
    }
    return question.count(raw).<Reply>map(c -> weighed(c, raw)).orElse(new Reply.Malformed(raw));
  }

  private Reply weighed(ReplyUnits.Counted counted, String raw) {
    double size = Math.abs(counted.count());
    if (Math.abs(size / DriverFile.SCPI_NOT_A_NUMBER - 1) < 1e-6) {
      return new Reply.NotANumber(raw);
    }
    if (size >= driver.signs().overload() * (1 - 1e-9)) {
      return new Reply.Overload(raw);
    }
    double value = counted.inBaseUnits();
    return Double.isFinite(value) ? new Reply.Number(value, raw) : new Reply.Malformed(raw);
  }

  private static boolean matches(Optional<Pattern> pattern, String raw) {
    return pattern.isPresent() && pattern.get().matcher(raw).find();
  }

  /** Settings of a role that are read back as text. */
  Map<String, String> settings(RoleName role, RoleCommands commands) {
    return spoken(
        role,
        () -> {
          Map<String, String> found = new LinkedHashMap<>();
          commands.readBack().forEach((name, what) -> found.put(name, setting(what)));
          return found;
        });
  }

  private String setting(Exchange.Setting what) {
    return taken(what, driverConversation.ask(filled(what), driverConversation.usual()));
  }

  /** The question for a setting. */
  String filled(Exchange.Setting what) {
    return what.ask().fill(driverConversation.with(Map.of()));
  }

  /** The setting in a reply. */
  String taken(Exchange.Setting what, String reply) {
    if (what.take().isEmpty()) {
      return reply.strip();
    }
    Matcher matcher = what.take().get().matcher(reply);
    if (!matcher.find() || matcher.group(1) == null) {
      throw wrong(
          filled(what), reply, "a reply that matches '" + what.take().get().pattern() + "'");
    }
    return matcher.group(1).strip();
  }

  /** An error of this instrument in a role. */
  InstrumentException refusal(RoleName role, String found, String expected) {
    return new InstrumentException(
        driverConversation
            .trouble(Kind.REFUSED, found)
            .with(expected, "Check the instrument's display.")
            .named(role.text() + " '" + name() + "'"));
  }

  /** A question with the instrument's settings put in. */
  NumericQuery.Filled filled(NumericQuery question) {
    return question.filled(driverConversation.with(Map.of()));
  }

  /**
   * The instrument's words for ranges and positions from the bench file; empty if they are the
   * same.
   */
  Map<String, String> words() {
    return connection.words();
  }

  /** The instrument's word for a range or position. */
  String word(RoleName role, String name) {
    Map<String, String> words = connection.words();
    String word = words.isEmpty() ? name : words.get(name);
    if (word == null) {
      throw new InstrumentException(
          driverConversation
              .trouble(Kind.REFUSED, "the bench file has no word for '" + name + "'")
              .with(
                  FileMessageText.oneOf(new TreeSet<>(words.keySet())),
                  "Add it under 'words:' of '" + name() + "' in the bench file.")
              .named(role.text() + " '" + name() + "'"));
    }
    return word;
  }
}
