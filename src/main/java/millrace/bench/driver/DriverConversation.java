// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Consumer;
import java.util.stream.Collectors;
import millrace.bench.role.InstrumentDriver.Connection;
import millrace.bench.role.ReplyTimes;
import millrace.bench.role.RoleName;
import millrace.fault.InstrumentException;
import millrace.fault.InstrumentTrouble;
import millrace.fault.InstrumentTrouble.Asked;
import millrace.fault.InstrumentTrouble.Kind;
import millrace.link.ExclusiveLinkUse;
import millrace.link.Framing;
import millrace.link.Link;
import millrace.link.LinkTimeouts;
import millrace.link.ModbusRefusal;
import millrace.link.WireText;

/**
 * The conversation with one instrument by its driver file. It fills settings into commands, adds
 * and checks check digits, names the instrument in every error, and knows which settings are in
 * doubt since the link was reopened. The lock of the link keeps it to one conversation at a time.
 */
final class DriverConversation {
  private static final Map<String, String> OPPOSITES =
      Map.of("off", "on", "unshort", "short", "disconnect", "connect");

  /** How many more times the identity is asked for if it does not match. */
  private static final int OFTEN = 6;

  private final DriverFile driver;
  private final Connection connection;
  private final Link link;
  private final LinkTimeouts timing;
  private final Map<String, Object> settings = new HashMap<>();
  private final SetPointCommandDetector setPoints;
  private final Map<RoleName, Set<String>> done = new EnumMap<>(RoleName.class);
  private final Map<RoleName, Set<String>> doubted = new EnumMap<>(RoleName.class);
  private int epoch;
  private boolean apart;
  private boolean vouched;
  private Optional<String> identity = Optional.empty();
  private volatile Optional<ReplyTimes> replyTimes = Optional.empty();

  DriverConversation(DriverFile driver, Connection connection) {
    this(driver, connection, driver.speech().timing());
  }

  DriverConversation(DriverFile driver, Connection connection, LinkTimeouts timing) {
    this.driver = driver;
    this.connection = connection;
    this.timing = timing;
    driver.settings().forEach((name, preset) -> preset.ifPresent(p -> settings.put(name, p)));
    settings.putAll(connection.settings());
    this.setPoints = new SetPointCommandDetector(driver, settings);
    this.link = connection.link().speaking(framing(), timing);
  }

  private Framing framing() {
    return driver
        .identity()
        .map(
            who ->
                driver
                    .speech()
                    .framing()
                    .inStepBy(
                        new Framing.Step(
                            wrapped(who.ask().fill(settings)),
                            who.lines(),
                            wanted(who),
                            lines ->
                                unwrapped(lines)
                                    .filter(r -> who.matches().matcher(r).find())
                                    .isPresent())))
        .orElse(driver.speech().framing());
  }

  Link link() {
    return link;
  }

  String name() {
    return connection.name();
  }

  /** The values to fill into a command: settings, and those given now. */
  Map<String, Object> with(Map<String, ?> values) {
    if (values.isEmpty()) {
      return settings;
    }
    Map<String, Object> all = new HashMap<>(settings);
    all.putAll(values);
    return all;
  }

  private String wrapped(String body) {
    return driver.speech().checksum().map(c -> c.wrap(body)).orElse(body);
  }

  /** Lines joined by LF without their check digits; empty if one is wrong. */
  private Optional<String> unwrapped(String lines) {
    if (driver.speech().checksum().isEmpty()) {
      return Optional.of(lines);
    }
    Checksum checksum = driver.speech().checksum().get();
    try {
      return Optional.of(lines.lines().map(checksum::unwrap).collect(Collectors.joining("\n")));
    } catch (IllegalArgumentException e) {
      return Optional.empty();
    }
  }

  /** Does something in one conversation, and names the instrument if it fails. */
  <T> T exclusively(ExclusiveLinkUse<T> talk) {
    try {
      return link.exclusively(talk);
    } catch (InstrumentException e) {
      throw named(e, "");
    }
  }

  /** The same error with the instrument's name, unless it has one already. */
  InstrumentException named(InstrumentException e, String role) {
    Optional<InstrumentTrouble> bare = e.trouble().filter(t -> t.instrument().isEmpty());
    String who = (role.isEmpty() ? "" : role + " ") + "'" + name() + "'";
    return bare.map(t -> new InstrumentException(t.named(who), e)).orElse(e);
  }

  InstrumentTrouble trouble(Kind kind, String found) {
    return InstrumentTrouble.of(kind, link.address().toString(), found);
  }

  /** Sends a command that has no reply. */
  void send(String body) {
    setPoints.refuseBeyond(body, connection.gate());
    link.send(wrapped(body));
  }

  /** Asks a question that has one line for a reply; it comes without its check digits. */
  String ask(String body, Duration atMost) {
    setPoints.refuseBeyond(body, connection.gate());
    String reply = link.ask(wrapped(body), atMost);
    replied();
    String content = content(body, reply);
    if (driver.speech().modbus()) {
      throwRefusal(body, content);
    }
    return content;
  }

  /** The same where the reply may have several lines, which are joined by LF, or be a block. */
  String ask(String body, Duration atMost, ReplyExtent extent) {
    if (extent.block()) {
      byte[] block = link.askBlock(wrapped(body), atMost);
      replied();
      return new String(block, StandardCharsets.ISO_8859_1);
    }
    String first = ask(body, atMost);
    if (extent.lines() == 1) {
      return first;
    }
    StringBuilder all = new StringBuilder(first);
    for (int i = 1; i < extent.lines(); i++) {
      all.append('\n').append(content(body, link.nextLine(wrapped(body), atMost)));
    }
    return all.toString();
  }

  private void replied() {
    link.lastReplyTook()
        .ifPresent(
            took ->
                replyTimes =
                    Optional.of(replyTimes.map(t -> t.and(took)).orElse(ReplyTimes.first(took))));
  }

  /** How long the replies took; empty before the first. */
  Optional<ReplyTimes> replyTimes() {
    return replyTimes;
  }

  private String content(String body, String reply) {
    return driver.speech().checksum().isEmpty() ? reply : checked(body, reply);
  }

  /** The error if a Modbus device refuses, unless the driver lists that reply as 'ask again'. */
  private void throwRefusal(String body, String reply) {
    Optional<String> refusal = ModbusRefusal.in(reply);
    boolean again = driver.signs().notReadyReply().filter(p -> p.matcher(reply).find()).isPresent();
    if (refusal.isPresent() && !again) {
      throw new InstrumentException(
          trouble(
                  Kind.REFUSED,
                  "refused %s with %s".formatted(WireText.quoted(body), refusal.get()))
              .with("that it does so", "Check the register addresses of the driver.")
              .with(new Asked(body, reply, Duration.ZERO)));
    }
  }

  private String checked(String body, String reply) {
    try {
      return driver.speech().checksum().orElseThrow().unwrap(reply);
    } catch (IllegalArgumentException e) {
      link.resynchronize();
      throw new InstrumentException(
          trouble(
                  Kind.WRONG_REPLY,
                  "the reply %s to %s %s"
                      .formatted(WireText.quoted(reply), WireText.quoted(body), e.getMessage()))
              .with("right check digits", "Check rate, parity and cable.")
              .with(new Asked(body, reply, Duration.ZERO)),
          e);
    }
  }

  Duration usual() {
    return timing.reply();
  }

  /** Sends a line regardless of what came before, and ignores any reply. */
  void sayBlind(String body, Duration atMost) {
    setPoints.refuseBeyond(body, connection.gate());
    link.sayBlind(wrapped(body), atMost);
  }

  /** Makes sure that the right instrument answers and that its opening lines were sent. */
  void ready(Consumer<List<Exchange>> say) {
    int now = link.connect();
    if (now == epoch) {
      return;
    }
    boolean again = epoch > 0;
    if (again) {
      apart = true;
      vouched = false;
      doubt();
      if (identity.isPresent()) {
        sameAs(identity.get());
      }
    }
    say.accept(driver.start());
    epoch = now;
  }

  /**
   * Whether lines or questions go out together in this way. After trouble each goes by itself, so
   * that what the instrument does not understand is not sent for ever, and the question that it
   * does not answer is named.
   */
  boolean takes(Together way) {
    return driver.speech().together() == way && !apart;
  }

  /** From now on each line and question goes by itself. */
  void oneByOne() {
    apart = true;
  }

  /** Sends lines that each have a line for a reply in a row; replies come without check digits. */
  List<String> askInARow(List<String> bodies) {
    bodies.forEach(body -> setPoints.refuseBeyond(body, connection.gate()));
    return link.exclusively(
        () -> {
          link.checkInStep();
          bodies.forEach(body -> link.send(wrapped(body)));
          List<String> replies = new ArrayList<>();
          for (String body : bodies) {
            replies.add(content(body, link.nextLine(wrapped(body), usual())));
          }
          return replies;
        });
  }

  /**
   * Notes whether it is known that the instrument was not switched off and on before its last
   * reading.
   */
  void vouched(boolean known) {
    vouched = known;
  }

  /** Whether that is known; it counts for one point. */
  boolean takeVouched() {
    boolean known = vouched;
    vouched = false;
    return known;
  }

  /** Until the identity is known nothing is sent but the identity query. */
  boolean met() {
    return epoch > 0 || identity.isPresent();
  }

  private void doubt() {
    done.forEach(
        (role, actions) -> doubted.computeIfAbsent(role, r -> new HashSet<>()).addAll(actions));
    done.clear();
  }

  /**
   * Asked whenever the identity is in doubt, so that another instrument is never taken for the
   * earlier one.
   */
  private void sameAs(String before) {
    String now = answersAs();
    if (!now.equals(before)) {
      throw new InstrumentException(
          trouble(
                  Kind.WRONG_IDENTITY,
                  "answers as " + WireText.quoted(now) + " since the link was opened again")
              .with(
                  "the instrument of before, " + WireText.quoted(before),
                  "Swapped cables are the commonest slip: see which instrument has this address."));
    }
  }

  /** Asks for the identity, checks that the driver is meant for it, and stores it. */
  String askIdentity() {
    String now = answersAs();
    identity = Optional.of(now);
    return now;
  }

  /** The identity that answered in this conversation so far; empty if none was asked. */
  Optional<String> identity() {
    return identity;
  }

  /** The count of the connection on which all settings so far were made. */
  int epoch() {
    return epoch;
  }

  /** Asks for the identity; it must be the earlier one, if there was one. */
  void refuseAnother(Optional<String> before) {
    if (before.isPresent()) {
      sameAs(before.get());
    } else if (driver.identity().isPresent()) {
      answersAs();
    }
  }

  /**
   * A busy instrument answers with an error at first, so that it is asked again. It is asked at
   * once, without resynchronizing first: with another instrument on the line that would wait in
   * vain for the right identity.
   */
  private String answersAs() {
    DriverFile.Identity who = driver.identity().orElseThrow();
    String question = who.ask().fill(settings);
    ReplyExtent extent = new ReplyExtent(false, who.lines());
    String reply = ask(question, usual(), extent);
    boolean doubtful = false;
    for (int more = OFTEN; more > 0 && !who.matches().matcher(reply).find(); more--) {
      doubtful = true;
      pause(driver.signs().askAgain());
      reply = ask(question, usual(), extent);
    }
    if (doubtful) {
      link.resynchronize();
    }
    if (!who.matches().matcher(reply).find()) {
      throw stranger(who, question, reply);
    }
    return String.join(", ", reply.strip().lines().toList());
  }

  private InstrumentException stranger(DriverFile.Identity who, String question, String reply) {
    return new InstrumentException(
        trouble(
                Kind.WRONG_IDENTITY,
                "answered %s to %s".formatted(WireText.quoted(reply), WireText.quoted(question)))
            .with(
                wanted(who),
                "Swapped cables are the commonest slip: see which instrument has this address, and"
                    + " that"
                    + " driver '%s' is meant for it.".formatted(driver.name()))
            .with(new Asked(question, reply, Duration.ZERO)));
  }

  private static String wanted(DriverFile.Identity who) {
    return "an identity that matches '" + who.matches().pattern() + "'";
  }

  void pause(Duration span) {
    try {
      connection.time().sleep(span);
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new InstrumentException(
          trouble(Kind.STOPPED, "was stopped while waiting").with("", ""), e);
    }
  }

  /** Notes what was set, so that it is in doubt when the link is reopened. */
  void noteSet(RoleName role, String action) {
    String kind = kind(action);
    done.computeIfAbsent(role, r -> new HashSet<>()).add(kind);
    doubted.getOrDefault(role, new HashSet<>()).remove(kind);
  }

  /** The setting that an action changes: on and off are the same setting. */
  static String kind(String action) {
    return OPPOSITES.getOrDefault(action, action);
  }

  /**
   * Refuses to read in a role whose settings were made before the link was reopened and not since.
   */
  void refuseDoubt(RoleName role) {
    Set<String> open = doubted.isEmpty() ? Set.of() : doubted.getOrDefault(role, Set.of());
    if (!open.isEmpty()) {
      throw new InstrumentException(
          trouble(
                  Kind.BROKEN,
                  "the link was opened again, so what was set before (%s) is in doubt"
                      .formatted(String.join(", ", open.stream().sorted().toList())))
              .with("that it is set again before anything is read", ""));
    }
  }
}
