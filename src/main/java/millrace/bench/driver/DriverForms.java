// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import java.time.Duration;
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
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
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

  private static final YamlForm<Integer> LONGEST_REPLY =
      YamlForms.map(
          YamlForms.where(
              YamlForms.quantity(Dimension.DATA),
              b -> b >= 1 && b <= Framing.MOST_BYTES,
              "an amount from 1 B to 16.7 MB"),
          b -> (int) Math.round(b));

  private static final YamlForm<Checksum> CHECKSUM =
      YamlMapForm.of(
          "a checksum",
          map ->
              new Checksum(
                  map.required(
                      "kind",
                      YamlForms.choice(Checksum.Kind.values(), Checksum.Kind::text),
                      "which"),
                  map.optional(
                      "before",
                      YamlForms.text("a text"),
                      "",
                      "what precedes each message, not summed"),
                  map.optional(
                      "between",
                      YamlForms.text("a text"),
                      "",
                      "what precedes the check digits, not summed"),
                  map.optional(
                      "on",
                      YamlForms.choice(Checksum.On.values(), Checksum.On::text),
                      Checksum.On.BOTH,
                      "commands and replies (default), or replies alone")));

  private static final YamlForm<Optional<String>> SETTING =
      YamlMapForm.of(
          "a setting",
          map -> {
            Optional<String> otherwise =
                map.optional(
                    "default",
                    YamlForms.text("a word"),
                    "what counts if a bench file says nothing");
            map.optional("about", YamlForms.text("a remark"), "what it means");
            return otherwise;
          });

  /** The form of a driver file. */
  public static final YamlForm<DriverFile> DRIVER = new DriverForm();

  /** Reads the settings of the file first, since its commands may name them. */
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
    public DriverFile sample() {
      return driver(Map.of()).sample();
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
    return YamlMapForm.of("a driver file", map -> driver(words, map));
  }

  private static DriverFile driver(Map<String, Dimension> words, YamlKeys map) {
    RoleForms forms = new RoleForms(words);
    String name = map.required("driver", YamlForms.text("a name"), "what bench files ask for");
    map.optional("about", YamlForms.text("a remark"), "a remark for people");
    Speech speech = speech(map);
    Map<String, Optional<String>> settings =
        map.optional(
            SETTINGS,
            YamlForms.named("names of settings", SETTING),
            Map.of(),
            "words that bench files set and commands put in");
    return new DriverFile(
        name,
        speech,
        map.optional("identity", identity(words), "who it is"),
        map.optional("errors", errors(words), "how complaints are read"),
        map.optional("restart", restart(words), "how it tells that it was switched off and on"),
        signs(map),
        settings,
        map.optional("start", forms.exchanges(Map.of()), List.of(), "said once after opening"),
        map.optional("safe", forms.exchanges(Map.of()), List.of(), "puts it in its safe state"),
        roles(forms, map));
  }

  private static Map<RoleName, RoleCommands> roles(RoleForms forms, YamlKeys map) {
    Map<RoleName, RoleCommands> found = new EnumMap<>(RoleName.class);
    RoleGrammar.ROLES.forEach(
        (role, grammar) ->
            map.optional(role.text(), forms.role(role, grammar), "what it does in this role")
                .ifPresent(commands -> found.put(role, commands)));
    if (found.isEmpty()) {
      throw new IllegalArgumentException(
          "the driver has no role; expected at least one, such as 'current meter:'");
    }
    return found;
  }

  /** The keys of the line protocol. */
  private static Speech speech(YamlKeys map) {
    LinkTimeouts usual = LinkTimeouts.DEFAULT;
    Framing framing = framing(map);
    LinkTimeouts timing =
        new LinkTimeouts(
            map.optional(
                "connect within", YamlForms.span(), usual.connect(), "wait for a connection; 3 s"),
            map.optional(
                "reply within", YamlForms.span(), usual.reply(), "wait for a reply; default 2 s"),
            map.optional(
                "quiet",
                YamlForms.span(),
                usual.quiet(),
                "silence of a line that is drained; 50 ms"),
            usual.reopening());
    Optional<Checksum> checksum =
        map.optional("checksum", CHECKSUM, "check digits of an ASCII protocol");
    if (framing.equals(Framing.MODBUS_RTU) && checksum.isPresent()) {
      throw new IllegalArgumentException(
          "both 'frames:' and 'checksum:' are given; expected one of them, since frames of Modbus"
              + " RTU have check bytes of their own");
    }
    Together together =
        map.optional(
            "together",
            YamlForms.choice(Together.values(), Together::text),
            Together.NOTHING,
            "no (default), scpi: several questions in one line, or lines: questions sent right"
                + " behind their command");
    return new Speech(framing, timing, checksum, together);
  }

  private static Framing framing(YamlKeys map) {
    Framing usual = Framing.LINES;
    String commandEnd =
        map.optional(
            "line ending", lineEnding(), usual.commandEnd(), "behind commands: LF (default), ...");
    ReplyEnd replyEnd =
        map.optional(
            "reply ending",
            YamlForms.choice(lineEnds(), ReplyEnd::text),
            usual.replyEnd(),
            "behind replies: any of CR, LF and CRLF (default), one of them, or none");
    boolean rtu =
        map.optional(
            "frames",
            YamlForms.choice(frames()),
            false,
            "lines (default), or modbus rtu: bytes, written here as hex digits");
    int most =
        map.optional("longest reply", LONGEST_REPLY, usual.mostReplyBytes(), "default 65.536 kB");
    Duration silence =
        map.optional(
            "silence", YamlForms.span(), usual.silence(), "what ends replies without an ending");
    return rtu
        ? Framing.MODBUS_RTU
        : new Framing(commandEnd, replyEnd, most, silence, Optional.empty());
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

  private static YamlForm<String> lineEnding() {
    Map<String, String> words = new LinkedHashMap<>();
    words.put("LF", "\n");
    words.put("CR", "\r");
    words.put("CRLF", "\r\n");
    words.put("none", "");
    return YamlForms.choice(words);
  }

  /** The keys that say which replies are no numbers. */
  private static Signs signs(YamlKeys map) {
    return new Signs(
        map.optional(
            "overload from",
            Dimension.NUMBER,
            DriverFile.SCPI_OVERLOAD,
            "numbers at or beyond, either sign, are an overload; default 9.9e37"),
        map.optional("overload reply", YamlForms.pattern(), "replies that mean an overload"),
        map.optional("no number reply", YamlForms.pattern(), "replies that mean no number"),
        map.optional("not ready reply", YamlForms.pattern(), "replies that mean: ask again"),
        map.optional(
            "ask again after", YamlForms.span(), Duration.ofMillis(200), "if it is not ready"),
        map.optional(
            "ready within",
            YamlForms.span(),
            Duration.ofSeconds(10),
            "longest wait; default 10 s"));
  }

  private static YamlForm<Identity> identity(Map<String, Dimension> words) {
    return YamlMapForm.of(
        "how to ask who it is",
        map ->
            new Identity(
                map.required("ask", CommandTemplateForms.command(words), "the question"),
                map.required("matches", YamlForms.pattern(), "what the reply must match"),
                map.optional("lines", YamlForms.count(1, 20), 1, "lines of the reply; default 1")));
  }

  private static YamlForm<Errors> errors(Map<String, Dimension> words) {
    return YamlMapForm.of(
        "how complaints are read",
        map ->
            new Errors(
                map.required(
                    "ask", CommandTemplateForms.command(words), "asked until there is none"),
                map.required("none", YamlForms.pattern(), "the reply when there is none")));
  }

  private static YamlForm<Restart> restart(Map<String, Dimension> words) {
    return YamlMapForm.of(
        "how it tells a restart",
        map ->
            new Restart(
                map.required(
                    "ask", CommandTemplateForms.command(words), "answered with a whole number"),
                map.required("bit", YamlForms.count(0, 30), "the bit that tells")));
  }
}
