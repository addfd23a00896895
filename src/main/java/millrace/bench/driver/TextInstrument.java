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
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.Assurance;
import millrace.bench.role.Instrument;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.Reply;
import millrace.bench.role.RoleName;
import millrace.document.Words;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.link.LinkTalk;
import millrace.quantity.Numbers;

/**
 * An instrument that speaks the text protocol of a driver file. Roles may be used by several
 * threads; the link keeps their conversations apart.
 */
final class TextInstrument implements Instrument {
  private final DriverFile driver;
  private final Connection connection;
  private final Voice voice;
  private final Saying saying;
  private final Settled settled;

  /** Complaints that were there before anything was said; guarded by the link's lock. */
  private final List<String> stale = new ArrayList<>();

  TextInstrument(DriverFile driver, Connection connection) {
    this.driver = driver;
    this.connection = connection;
    this.voice = new Voice(driver, connection);
    this.saying = new Saying(driver, connection, voice);
    this.settled = new Settled(driver, voice, saying);
  }

  @Override
  public String name() {
    return connection.name();
  }

  @Override
  public String identity() {
    if (driver.identity().isEmpty()) {
      return "(driver '" + driver.name() + "', the instrument cannot say who it is)";
    }
    return voice.exclusively(
        () -> {
          if (voice.met()) {
            ready();
          }
          return voice.askIdentity();
        });
  }

  @Override
  public <R> Optional<R> in(RoleName role, Class<R> face) {
    RoleCommands commands = driver.roles().get(role);
    if (commands == null) {
      return Optional.empty();
    }
    Object worker = TextRoles.of(role, this, commands);
    return face.isInstance(worker) ? Optional.of(face.cast(worker)) : Optional.empty();
  }

  @Override
  public List<String> errors() {
    return voice.exclusively(
        () -> {
          ready();
          List<String> all = new ArrayList<>(stale);
          stale.clear();
          all.addAll(saying.complaints());
          return all;
        });
  }

  @Override
  public List<String> notes() {
    return voice.exclusively(
        () -> {
          List<String> found =
              stale.stream()
                  .map(c -> "'%s' had a complaint when it was opened: %s".formatted(name(), c))
                  .toList();
          stale.clear();
          return found;
        });
  }

  @Override
  public int epoch() {
    return voice.link().epoch();
  }

  @Override
  public void renew() {
    if (epoch() > 0) {
      voice.exclusively(
          () -> {
            ready();
            return Boolean.TRUE;
          });
    }
  }

  @Override
  public void check() {
    voice.exclusively(
        () -> {
          voice.link().checkInStep();
          driver.restart().ifPresent(this::refuseRestart);
          return Boolean.TRUE;
        });
  }

  private void refuseRestart(DriverFile.Restart restart) {
    String question = restart.ask().fill(voice.with(Map.of()));
    String reply = voice.ask(question, voice.usual());
    OptionalDouble events = Numbers.parse(reply.strip());
    if (events.isEmpty()) {
      throw wrong(question, reply, "a whole number");
    }
    if (((long) events.getAsDouble() >> restart.bit() & 1) == 1) {
      voice.link().resynchronize();
      throw new InstrumentException(
          voice
              .trouble(Kind.BROKEN, "the instrument was switched off and on")
              .with("", "Everything has to be set again; check its mains cable.")
              .with(new Asked(question, reply, Duration.ZERO)));
    }
  }

  @Override
  public Optional<String> changed() {
    if (epoch() == 0) {
      return Optional.empty();
    }
    return voice.exclusively(
        () -> {
          ready();
          return settled.changed();
        });
  }

  @Override
  public Assurance makeSafe(Duration within) {
    return new SafeState(driver, connection).reach(within, voice.identity(), voice.epoch());
  }

  @Override
  public void close() {
    voice.link().close();
  }

  /** Says what a role wants said, in order; nothing is sent unless all of it can be written. */
  void perform(RoleName role, String action, List<Exchange> exchanges, Map<String, ?> values) {
    try {
      voice
          .link()
          .exclusively(
              () -> {
                ready();
                exchanges.forEach(e -> saying.one(e, values));
                voice.told(role, action);
                settled.done(role, action, exchanges, values);
                return Boolean.TRUE;
              });
    } catch (InstrumentException e) {
      throw voice.named(e, role.text());
    } catch (IllegalArgumentException e) {
      throw new InstrumentException(
          voice
              .trouble(Kind.REFUSED, "cannot " + action + ": " + e.getMessage())
              .named(role.text() + " '" + name() + "'"),
          e);
    }
  }

  private void ready() {
    voice.ready(
        exchanges -> {
          exchanges.forEach(e -> saying.one(e, Map.of()));
          stale.addAll(saying.complaints());
        });
  }

  private InstrumentException wrong(String question, String reply, String expected) {
    return saying.wrong(question, reply, expected);
  }

  /** Asks for a number in a role. */
  Reply number(RoleName role, Question.Filled question) {
    return spoken(
        role,
        () -> {
          voice.refuseDoubt(role);
          return asked(question);
        });
  }

  /** The same where what was set before the link was opened again may be in doubt. */
  Reply glance(RoleName role, Question.Filled question) {
    return spoken(role, () -> asked(question));
  }

  private <T> T spoken(RoleName role, LinkTalk<T> talk) {
    try {
      return voice
          .link()
          .exclusively(
              () -> {
                ready();
                return talk.run();
              });
    } catch (InstrumentException e) {
      throw voice.named(e, role.text());
    }
  }

  /** Asks a chamber whether its door is open. */
  boolean isOpen(Exchange.Door door) {
    return spoken(
        RoleName.CHAMBER,
        () -> {
          String question = door.ask().fill(voice.with(Map.of()));
          String reply = voice.ask(question, voice.usual());
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
          String reply = voice.ask(alarm.ask().fill(voice.with(Map.of())), voice.usual());
          return Optional.of(reply.strip()).filter(r -> !alarm.none().matcher(r).find());
        });
  }

  private Reply asked(Question.Filled question) {
    String raw = saying.whole(question);
    if (driver.signs().notReadyReply().isEmpty()) {
      return understood(question, raw);
    }
    Duration began = connection.time().elapsed();
    while (matches(driver.signs().notReadyReply(), raw)) {
      Duration waited = connection.time().elapsed().minus(began);
      if (waited.compareTo(driver.signs().readyWithin()) >= 0) {
        return new Reply.NotReady(raw);
      }
      voice.pause(driver.signs().askAgain());
      raw = saying.whole(question);
    }
    return understood(question, raw);
  }

  private Reply understood(Question.Filled question, String raw) {
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
    String question = what.ask().fill(voice.with(Map.of()));
    String reply = voice.ask(question, voice.usual());
    if (what.take().isEmpty()) {
      return reply.strip();
    }
    Matcher matcher = what.take().get().matcher(reply);
    if (!matcher.find() || matcher.group(1) == null) {
      throw wrong(question, reply, "a reply that matches '" + what.take().get().pattern() + "'");
    }
    return matcher.group(1).strip();
  }

  /** An error of this instrument in a role. */
  InstrumentException refusal(RoleName role, String found, String expected) {
    return new InstrumentException(
        voice
            .trouble(Kind.REFUSED, found)
            .with(expected, "Check the instrument's display.")
            .named(role.text() + " '" + name() + "'"));
  }

  /** A question with the instrument's settings put in. */
  Question.Filled filled(Question question) {
    return question.filled(voice.with(Map.of()));
  }

  /** What the bench file says that the instrument calls things; empty if it calls them the same. */
  Map<String, String> words() {
    return connection.words();
  }

  /** What the instrument calls a range or position. */
  String word(RoleName role, String name) {
    Map<String, String> words = connection.words();
    String word = words.isEmpty() ? name : words.get(name);
    if (word == null) {
      throw new InstrumentException(
          voice
              .trouble(Kind.REFUSED, "the bench file has no word for '" + name + "'")
              .with(
                  Words.oneOf(new TreeSet<>(words.keySet())),
                  "Add it under 'words:' of '" + name() + "' in the bench file.")
              .named(role.text() + " '" + name() + "'"));
    }
    return word;
  }
}
