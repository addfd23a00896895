// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.driver.DriverFile.Errors;
import millrace.bench.driver.DriverFile.Identity;
import millrace.bench.driver.DriverFile.Restart;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.driver.DriverFile.Signs;
import millrace.bench.driver.DriverFile.Speech;
import millrace.bench.role.RoleName;
import millrace.document.form.Form;
import millrace.document.form.Forms;
import millrace.document.form.MapForm;
import millrace.document.form.MapForm.Key;
import millrace.document.yaml.Node;
import millrace.fault.Faults;
import millrace.link.Framing;
import millrace.link.ReplyEnd;
import millrace.link.Timing;
import millrace.quantity.Dimension;

/** How a driver file is written. */
public final class DriverForms {
  private static final String SETTINGS = "settings";

  private DriverForms() {}

  /** The form of a driver file. */
  public static final Form<DriverFile> DRIVER = new DriverForm();

  /** Looks first which settings the file has, since its commands may name them. */
  private static final class DriverForm implements Form<DriverFile> {
    @Override
    public Optional<DriverFile> read(Node node, Faults faults) {
      Map<String, Dimension> words = new LinkedHashMap<>();
      if (node instanceof Node.Entries entries
          && entries.find(SETTINGS).map(Node.Entry::value).orElse(null)
              instanceof Node.Entries settings) {
        settings.entries().forEach(e -> words.put(e.key(), Dimension.NUMBER));
      }
      return driver(words).read(node, faults);
    }

    @Override
    public Map<String, Object> schema(Map<String, Object> defs) {
      return driver(Map.of()).schema(defs);
    }

    @Override
    public String inWords() {
      return "a driver file";
    }
  }

  private static Form<DriverFile> driver(Map<String, Dimension> words) {
    MapForm.Builder map = MapForm.of("a driver file");
    Key<String> name = map.required("driver", Forms.text("a name"), "what bench files ask for");
    map.optional("about", Forms.text("a remark"), "a remark for people");
    SpeechKeys speech = new SpeechKeys(map);
    Key<Map<String, Optional<String>>> settings =
        map.optional(
            SETTINGS,
            Forms.named("names of settings", setting()),
            Map.of(),
            "words that bench files set and commands put in");
    Key<Optional<Identity>> identity = map.optional("identity", identity(words), "who it is");
    Key<Optional<Errors>> errors = map.optional("errors", errors(words), "how complaints are read");
    Key<Optional<Restart>> restart =
        map.optional("restart", restart(words), "how it tells that it was switched off and on");
    SignKeys signs = new SignKeys(map);
    RoleForms forms = new RoleForms(words);
    Key<List<Exchange>> start =
        map.optional("start", forms.exchanges(Map.of()), List.of(), "said once after opening");
    Key<List<Exchange>> safe =
        map.optional("safe", forms.exchanges(Map.of()), List.of(), "puts it in its safe state");
    List<Key<Optional<RoleCommands>>> roles = new ArrayList<>();
    RoleGrammar.ROLES.forEach(
        (role, grammar) ->
            roles.add(
                map.optional(role.text(), forms.role(role, grammar), "what it does in this role")));
    return map.reads(
        v ->
            new DriverFile(
                v.get(name),
                speech.get(v),
                v.get(identity),
                v.get(errors),
                v.get(restart),
                signs.get(v),
                v.get(settings),
                v.get(start),
                v.get(safe),
                roles(roles, v)));
  }

  private static Map<RoleName, RoleCommands> roles(
      List<Key<Optional<RoleCommands>>> keys, MapForm.Values values) {
    Map<RoleName, RoleCommands> found = new EnumMap<>(RoleName.class);
    int i = 0;
    for (RoleName role : RoleGrammar.ROLES.keySet()) {
      values.get(keys.get(i++)).ifPresent(commands -> found.put(role, commands));
    }
    if (found.isEmpty()) {
      throw new IllegalArgumentException(
          "the driver has no role; expected at least one, such as 'current meter:'");
    }
    return found;
  }

  /** The keys that say how lines go over the link. */
  private static final class SpeechKeys {
    private final Key<String> commandEnd;
    private final Key<ReplyEnd> replyEnd;
    private final Key<Boolean> rtu;
    private final Key<Integer> most;
    private final Key<Duration> silence;
    private final Key<Duration> connect;
    private final Key<Duration> within;
    private final Key<Duration> quiet;
    private final Key<Optional<Checksum>> checksum;

    SpeechKeys(MapForm.Builder map) {
      Framing lines = Framing.LINES;
      Timing usual = Timing.DEFAULT;
      commandEnd =
          map.optional("line ending", lineEnding(), "\n", "behind commands: LF (default), ...");
      replyEnd =
          map.optional(
              "reply ending",
              Forms.choice(lineEnds(), ReplyEnd::text),
              ReplyEnd.ANY,
              "behind replies: any of CR, LF and CRLF (default), one of them, or none");
      rtu =
          map.optional(
              "frames",
              Forms.choice(frames()),
              false,
              "lines (default), or modbus rtu: bytes, written here as hex digits");
      most =
          map.optional(
              "longest reply",
              Forms.map(
                  Forms.where(
                      Forms.quantity(Dimension.DATA),
                      b -> b >= 1 && b <= Framing.MOST_BYTES,
                      "an amount from 1 B to 16.7 MB"),
                  b -> (int) Math.round(b)),
              lines.mostReplyBytes(),
              "default 65.536 kB");
      silence =
          map.optional(
              "silence", Forms.span(), lines.silence(), "what ends replies without an ending");
      connect =
          map.optional(
              "connect within", Forms.span(), usual.connect(), "wait for a connection; 3 s");
      within =
          map.optional(
              "reply within", Forms.span(), usual.reply(), "wait for a reply; default 2 s");
      quiet =
          map.optional(
              "quiet", Forms.span(), usual.quiet(), "silence of a line that is drained; 50 ms");
      checksum = map.optional("checksum", checksum(), "check digits of an ASCII protocol");
    }

    Speech get(MapForm.Values v) {
      Timing timing =
          new Timing(v.get(connect), v.get(within), v.get(quiet), Timing.DEFAULT.reopening());
      if (v.get(rtu) && v.get(checksum).isPresent()) {
        throw new IllegalArgumentException(
            "both 'frames:' and 'checksum:' are given; expected one of them, since frames of Modbus"
                + " RTU have check bytes of their own");
      }
      return new Speech(v.get(rtu) ? Framing.MODBUS_RTU : lines(v), timing, v.get(checksum));
    }

    private Framing lines(MapForm.Values v) {
      return new Framing(
          v.get(commandEnd), v.get(replyEnd), v.get(most), v.get(silence), Optional.empty());
    }

    private static Map<String, Boolean> frames() {
      Map<String, Boolean> words = new LinkedHashMap<>();
      words.put("lines", false);
      words.put(ReplyEnd.MODBUS_RTU.text(), true);
      return words;
    }

    private static ReplyEnd[] lineEnds() {
      return Arrays.stream(ReplyEnd.values())
          .filter(e -> e != ReplyEnd.MODBUS_RTU)
          .toArray(ReplyEnd[]::new);
    }
  }

  private static Form<String> lineEnding() {
    Map<String, String> words = new LinkedHashMap<>();
    words.put("LF", "\n");
    words.put("CR", "\r");
    words.put("CRLF", "\r\n");
    words.put("none", "");
    return Forms.choice(words);
  }

  private static Form<Checksum> checksum() {
    MapForm.Builder map = MapForm.of("a checksum");
    Key<Checksum.Kind> kind =
        map.required("kind", Forms.choice(Checksum.Kind.values(), Checksum.Kind::text), "which");
    Key<String> before =
        map.optional("before", Forms.text("a text"), "", "what precedes each message, not summed");
    Key<String> between =
        map.optional(
            "between", Forms.text("a text"), "", "what precedes the check digits, not summed");
    Key<Checksum.On> on =
        map.optional(
            "on",
            Forms.choice(Checksum.On.values(), Checksum.On::text),
            Checksum.On.BOTH,
            "commands and replies (default), or replies alone");
    return map.reads(v -> new Checksum(v.get(kind), v.get(before), v.get(between), v.get(on)));
  }

  /** The keys that say which replies are no numbers. */
  private static final class SignKeys {
    private final Key<Double> overload;
    private final Key<Optional<Pattern>> overloadReply;
    private final Key<Optional<Pattern>> noNumber;
    private final Key<Optional<Pattern>> notReady;
    private final Key<Duration> again;
    private final Key<Duration> ready;

    SignKeys(MapForm.Builder map) {
      overload =
          map.optional(
              "overload from",
              Forms.quantity(Dimension.NUMBER),
              DriverFile.SCPI_OVERLOAD,
              "numbers at or beyond, either sign, are an overload; default 9.9e37");
      overloadReply =
          map.optional("overload reply", Forms.pattern(), "replies that mean an overload");
      noNumber = map.optional("no number reply", Forms.pattern(), "replies that mean no number");
      notReady = map.optional("not ready reply", Forms.pattern(), "replies that mean: ask again");
      again =
          map.optional(
              "ask again after", Forms.span(), Duration.ofMillis(200), "if it is not ready");
      ready =
          map.optional(
              "ready within", Forms.span(), Duration.ofSeconds(10), "longest wait; default 10 s");
    }

    Signs get(MapForm.Values v) {
      return new Signs(
          v.get(overload),
          v.get(overloadReply),
          v.get(noNumber),
          v.get(notReady),
          v.get(again),
          v.get(ready));
    }
  }

  private static Form<Optional<String>> setting() {
    MapForm.Builder map = MapForm.of("a setting");
    Key<Optional<String>> otherwise =
        map.optional("default", Forms.text("a word"), "what counts if a bench file says nothing");
    map.optional("about", Forms.text("a remark"), "what it means");
    return map.reads(v -> v.get(otherwise));
  }

  private static Form<Identity> identity(Map<String, Dimension> words) {
    MapForm.Builder map = MapForm.of("how to ask who it is");
    Key<Template> ask = map.required("ask", TemplateForms.command(words), "the question");
    Key<Pattern> matches = map.required("matches", Forms.pattern(), "what the reply must match");
    Key<Integer> lines =
        map.optional("lines", Forms.count(1, 20), 1, "lines of the reply; default 1");
    return map.reads(v -> new Identity(v.get(ask), v.get(matches), v.get(lines)));
  }

  private static Form<Errors> errors(Map<String, Dimension> words) {
    MapForm.Builder map = MapForm.of("how complaints are read");
    Key<Template> ask =
        map.required("ask", TemplateForms.command(words), "asked until there is none");
    Key<Pattern> none = map.required("none", Forms.pattern(), "the reply when there is none");
    return map.reads(v -> new Errors(v.get(ask), v.get(none)));
  }

  private static Form<Restart> restart(Map<String, Dimension> words) {
    MapForm.Builder map = MapForm.of("how it tells a restart");
    Key<Template> ask =
        map.required("ask", TemplateForms.command(words), "answered with a whole number");
    Key<Integer> bit = map.required("bit", Forms.count(0, 30), "the bit that tells");
    return map.reads(v -> new Restart(v.get(ask), v.get(bit)));
  }
}
