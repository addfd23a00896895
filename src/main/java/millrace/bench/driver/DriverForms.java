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
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlMapForm;
import millrace.document.form.YamlMapForm.Key;
import millrace.document.yaml.Node;
import millrace.fault.InputFaultList;
import millrace.link.Framing;
import millrace.link.LinkTimeouts;
import millrace.link.ReplyEnd;
import millrace.quantity.Dimension;

/** How a driver file is written. */
public final class DriverForms {
  private static final String SETTINGS = "settings";

  private DriverForms() {}

  /** The form of a driver file. */
  public static final YamlForm<DriverFile> DRIVER = new DriverForm();

  /** Looks first which settings the file has, since its commands may name them. */
  private static final class DriverForm implements YamlForm<DriverFile> {
    @Override
    public Optional<DriverFile> read(Node node, InputFaultList faults) {
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

  private static YamlForm<DriverFile> driver(Map<String, Dimension> words) {
    YamlMapForm.Builder map = YamlMapForm.of("a driver file");
    Key<String> name = map.required("driver", YamlForms.text("a name"), "what bench files ask for");
    map.optional("about", YamlForms.text("a remark"), "a remark for people");
    SpeechKeys speech = new SpeechKeys(map);
    Key<Map<String, Optional<String>>> settings =
        map.optional(
            SETTINGS,
            YamlForms.named("names of settings", setting()),
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
      List<Key<Optional<RoleCommands>>> keys, YamlMapForm.Values values) {
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

    SpeechKeys(YamlMapForm.Builder map) {
      Framing lines = Framing.LINES;
      LinkTimeouts usual = LinkTimeouts.DEFAULT;
      commandEnd =
          map.optional("line ending", lineEnding(), "\n", "behind commands: LF (default), ...");
      replyEnd =
          map.optional(
              "reply ending",
              YamlForms.choice(lineEnds(), ReplyEnd::text),
              ReplyEnd.ANY,
              "behind replies: any of CR, LF and CRLF (default), one of them, or none");
      rtu =
          map.optional(
              "frames",
              YamlForms.choice(frames()),
              false,
              "lines (default), or modbus rtu: bytes, written here as hex digits");
      most =
          map.optional(
              "longest reply",
              YamlForms.map(
                  YamlForms.where(
                      YamlForms.quantity(Dimension.DATA),
                      b -> b >= 1 && b <= Framing.MOST_BYTES,
                      "an amount from 1 B to 16.7 MB"),
                  b -> (int) Math.round(b)),
              lines.mostReplyBytes(),
              "default 65.536 kB");
      silence =
          map.optional(
              "silence", YamlForms.span(), lines.silence(), "what ends replies without an ending");
      connect =
          map.optional(
              "connect within", YamlForms.span(), usual.connect(), "wait for a connection; 3 s");
      within =
          map.optional(
              "reply within", YamlForms.span(), usual.reply(), "wait for a reply; default 2 s");
      quiet =
          map.optional(
              "quiet", YamlForms.span(), usual.quiet(), "silence of a line that is drained; 50 ms");
      checksum = map.optional("checksum", checksum(), "check digits of an ASCII protocol");
    }

    Speech get(YamlMapForm.Values v) {
      LinkTimeouts timing =
          new LinkTimeouts(
              v.get(connect), v.get(within), v.get(quiet), LinkTimeouts.DEFAULT.reopening());
      if (v.get(rtu) && v.get(checksum).isPresent()) {
        throw new IllegalArgumentException(
            "both 'frames:' and 'checksum:' are given; expected one of them, since frames of Modbus"
                + " RTU have check bytes of their own");
      }
      return new Speech(v.get(rtu) ? Framing.MODBUS_RTU : lines(v), timing, v.get(checksum));
    }

    private Framing lines(YamlMapForm.Values v) {
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

  private static YamlForm<String> lineEnding() {
    Map<String, String> words = new LinkedHashMap<>();
    words.put("LF", "\n");
    words.put("CR", "\r");
    words.put("CRLF", "\r\n");
    words.put("none", "");
    return YamlForms.choice(words);
  }

  private static YamlForm<Checksum> checksum() {
    YamlMapForm.Builder map = YamlMapForm.of("a checksum");
    Key<Checksum.Kind> kind =
        map.required(
            "kind", YamlForms.choice(Checksum.Kind.values(), Checksum.Kind::text), "which");
    Key<String> before =
        map.optional(
            "before", YamlForms.text("a text"), "", "what precedes each message, not summed");
    Key<String> between =
        map.optional(
            "between", YamlForms.text("a text"), "", "what precedes the check digits, not summed");
    Key<Checksum.On> on =
        map.optional(
            "on",
            YamlForms.choice(Checksum.On.values(), Checksum.On::text),
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

    SignKeys(YamlMapForm.Builder map) {
      overload =
          map.optional(
              "overload from",
              YamlForms.quantity(Dimension.NUMBER),
              DriverFile.SCPI_OVERLOAD,
              "numbers at or beyond, either sign, are an overload; default 9.9e37");
      overloadReply =
          map.optional("overload reply", YamlForms.pattern(), "replies that mean an overload");
      noNumber =
          map.optional("no number reply", YamlForms.pattern(), "replies that mean no number");
      notReady =
          map.optional("not ready reply", YamlForms.pattern(), "replies that mean: ask again");
      again =
          map.optional(
              "ask again after", YamlForms.span(), Duration.ofMillis(200), "if it is not ready");
      ready =
          map.optional(
              "ready within",
              YamlForms.span(),
              Duration.ofSeconds(10),
              "longest wait; default 10 s");
    }

    Signs get(YamlMapForm.Values v) {
      return new Signs(
          v.get(overload),
          v.get(overloadReply),
          v.get(noNumber),
          v.get(notReady),
          v.get(again),
          v.get(ready));
    }
  }

  private static YamlForm<Optional<String>> setting() {
    YamlMapForm.Builder map = YamlMapForm.of("a setting");
    Key<Optional<String>> otherwise =
        map.optional(
            "default", YamlForms.text("a word"), "what counts if a bench file says nothing");
    map.optional("about", YamlForms.text("a remark"), "what it means");
    return map.reads(v -> v.get(otherwise));
  }

  private static YamlForm<Identity> identity(Map<String, Dimension> words) {
    YamlMapForm.Builder map = YamlMapForm.of("how to ask who it is");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(words), "the question");
    Key<Pattern> matches =
        map.required("matches", YamlForms.pattern(), "what the reply must match");
    Key<Integer> lines =
        map.optional("lines", YamlForms.count(1, 20), 1, "lines of the reply; default 1");
    return map.reads(v -> new Identity(v.get(ask), v.get(matches), v.get(lines)));
  }

  private static YamlForm<Errors> errors(Map<String, Dimension> words) {
    YamlMapForm.Builder map = YamlMapForm.of("how complaints are read");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(words), "asked until there is none");
    Key<Pattern> none = map.required("none", YamlForms.pattern(), "the reply when there is none");
    return map.reads(v -> new Errors(v.get(ask), v.get(none)));
  }

  private static YamlForm<Restart> restart(Map<String, Dimension> words) {
    YamlMapForm.Builder map = YamlMapForm.of("how it tells a restart");
    Key<CommandTemplate> ask =
        map.required("ask", CommandTemplateForms.command(words), "answered with a whole number");
    Key<Integer> bit = map.required("bit", YamlForms.count(0, 30), "the bit that tells");
    return map.reads(v -> new Restart(v.get(ask), v.get(bit)));
  }
}
