// SPDX-License-Identifier: Apache-2.0
package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;
import millrace.document.FileMessageText;
import millrace.document.form.YamlForm;
import millrace.document.form.YamlForms;
import millrace.document.form.YamlKeys;
import millrace.document.form.YamlMapForm;
import millrace.quantity.Dimension;

/** How a role is written in a driver file whose settings are known. */
final class RoleForms {
  private final Map<String, Dimension> words;

  RoleForms(Map<String, Dimension> words) {
    this.words = new LinkedHashMap<>(words);
  }

  private Map<String, Dimension> with(Map<String, Dimension> more) {
    Map<String, Dimension> known = new LinkedHashMap<>(words);
    known.putAll(more);
    return known;
  }

  YamlForm<RoleCommands> role(RoleName role, RoleGrammar.Role grammar) {
    return YamlMapForm.of("the role " + role.text(), map -> commands(role, grammar, map));
  }

  private RoleCommands commands(RoleName role, RoleGrammar.Role grammar, YamlKeys map) {
    boolean chamber = role == RoleName.CHAMBER;
    RoleCommands commands =
        new RoleCommands(
            actions(grammar, map),
            numbers(grammar, map),
            map.optional(
                "read back",
                YamlForms.named("names of settings", readBack()),
                Map.of(),
                "settings that are stored with every point"),
            map.optional(
                "ranges", YamlForms.list(range(grammar), 1), List.of(), "ranges of a meter"),
            chamber
                ? map.optional("door", door(), "asks whether its door is open")
                : Optional.empty(),
            chamber
                ? map.optional("alarm", alarm(), "asks whether it has an alarm")
                : Optional.empty());
    requireReading(role, grammar, commands.questions());
    requireRanges(role, grammar, commands.ranges());
    return commands;
  }

  private Map<String, List<Exchange>> actions(RoleGrammar.Role grammar, YamlKeys map) {
    Map<String, List<Exchange>> said = new LinkedHashMap<>();
    grammar
        .required()
        .forEach(
            (action, args) ->
                said.put(action, map.required(action, exchanges(args), "said to " + action)));
    grammar
        .optional()
        .forEach(
            (action, args) ->
                map.optional(action, exchanges(args), "said to " + action)
                    .ifPresent(e -> said.put(action, e)));
    return said;
  }

  private Map<String, NumericQuery> numbers(RoleGrammar.Role grammar, YamlKeys map) {
    Map<String, NumericQuery> asked = new LinkedHashMap<>();
    grammar
        .numbers()
        .forEach(
            (number, kind) ->
                map.optional(number, question(kind), "asks for a number")
                    .ifPresent(q -> asked.put(number, q)));
    return asked;
  }

  private static CommandTemplate ask(YamlKeys map, Map<String, Dimension> known) {
    return map.required("ask", CommandTemplateForms.command(known), "the question");
  }

  private YamlForm<Exchange.Alarm> alarm() {
    return YamlMapForm.of(
        "an alarm",
        map ->
            new Exchange.Alarm(
                ask(map, words),
                map.required(
                    "none", YamlForms.pattern(), "what the reply matches if it has none")));
  }

  private YamlForm<Exchange.Door> door() {
    return YamlMapForm.of(
        "a door",
        map ->
            new Exchange.Door(
                ask(map, words),
                map.required("open", YamlForms.pattern(), "what the reply matches if it is"),
                map.required(
                    "closed", YamlForms.pattern(), "what the reply matches if it is not")));
  }

  private static void requireReading(
      RoleName role, RoleGrammar.Role grammar, Map<String, NumericQuery> asked) {
    if (grammar.readable() && !asked.containsKey("read")) {
      throw new IllegalArgumentException(
          "the role %s cannot be read; expected 'read: {ask: ...}'".formatted(role.text()));
    }
  }

  private static void requireRanges(
      RoleName role, RoleGrammar.Role grammar, List<MeterRange> ranges) {
    if (grammar.meter() == ranges.isEmpty()) {
      throw new IllegalArgumentException(
          grammar.meter()
              ? "the role %s has no ranges; expected 'ranges: [{full scale: ...}]'"
                  .formatted(role.text())
              : "the role %s has ranges; expected them only for meters".formatted(role.text()));
    }
  }

  private static YamlForm<MeterRange> range(RoleGrammar.Role grammar) {
    Dimension kind = grammar.numbers().getOrDefault("read", Dimension.NUMBER);
    return YamlMapForm.of(
        "a meter range",
        map -> {
          double full = map.required("full scale", kind, "what it is called by");
          return new MeterRange(
              full,
              map.optional("highest", kind, full, "highest reading; default the full scale"),
              map.optional("resolution", kind, 0.0, "least step of a reading"));
        });
  }

  private YamlForm<NumericQuery> question(Dimension kind) {
    return YamlMapForm.of("a question for a number", map -> question(map, ask(map, words), kind));
  }

  /** The keys of a query for a number and of the number in its reply. */
  private NumericQuery question(YamlKeys map, CommandTemplate ask, Dimension kind) {
    Optional<CommandTemplate> number =
        map.optional(
            "number",
            YamlForms.checked(expectation(words), t -> requireGroup(t.check(words))),
            "matches the whole reply and takes the number out of it by its group");
    ReplyUnits units = ReplyUnits.of(map, kind);
    ReplyNumberFormat digits =
        map.optional(
            "digits",
            YamlForms.choice(ReplyNumberFormat.values(), ReplyNumberFormat::text),
            ReplyNumberFormat.DECIMAL,
            "decimal (default), or hex with negative numbers as two's complement");
    return new NumericQuery(
        ask,
        number,
        units.behind(digits),
        digits,
        ReplyExtent.of(map),
        map.optional("within", YamlForms.span(), "longest wait for the reply"));
  }

  private YamlForm<Exchange.Setting> readBack() {
    return YamlMapForm.of(
        "a setting to read back",
        map ->
            new Exchange.Setting(
                ask(map, words),
                map.optional(
                    "setting",
                    YamlForms.checked(YamlForms.pattern(), RoleForms::requireGroup),
                    "takes it out of the reply by its group; default all")));
  }

  private static void requireGroup(Pattern pattern) {
    if (pattern.groupCount() < 1) {
      throw new IllegalArgumentException(
          "the pattern '%s' has no group; expected one that takes what is wanted, as in '= (.*)'"
              .formatted(pattern.pattern()));
    }
  }

  /** Exchanges in order; a text alone is a command without reply. */
  YamlForm<List<Exchange>> exchanges(Map<String, Dimension> args) {
    Map<String, Dimension> known = with(args);
    YamlForm<Exchange> send =
        YamlForms.map(CommandTemplateForms.command(known), Exchange.Send::new);
    Map<String, YamlForm<? extends Exchange>> kinds = new LinkedHashMap<>();
    kinds.put("ask", ask(known));
    kinds.put("confirm", confirm(args));
    kinds.put("wait", pause());
    return YamlForms.list(YamlForms.scalarOr(send, YamlForms.byKey("an exchange", kinds)), 0);
  }

  private static YamlForm<Exchange> ask(Map<String, Dimension> known) {
    return YamlMapForm.of(
        "a question",
        map ->
            new Exchange.Ask(
                ask(map, known),
                map.optional("expect", expectation(known), "what the reply must match"),
                map.optional(
                    "repeat for", YamlForms.span(), "repeat until it matches, at most this long"),
                map.optional(
                    "every",
                    YamlForms.span(),
                    Duration.ofMillis(200),
                    "pause between; default 200 ms"),
                map.optional("within", YamlForms.span(), "longest wait for one reply"),
                ReplyExtent.of(map)));
  }

  /** A pattern in which braces around a known name are placeholders. */
  private static YamlForm<CommandTemplate> expectation(Map<String, Dimension> known) {
    return YamlForms.map(
        YamlForms.text("a regular expression, with placeholders"),
        text -> {
          boolean named =
              known.keySet().stream()
                  .anyMatch(n -> text.contains("{" + n + "}") || text.contains("{" + n + ":"));
          CommandTemplate template =
              named ? CommandTemplate.parse(text, known) : CommandTemplate.literal(text);
          template.check(known);
          return template;
        });
  }

  private YamlForm<Exchange> confirm(Map<String, Dimension> args) {
    return YamlMapForm.of("a confirmation", map -> confirm(args, map));
  }

  private Exchange confirm(Map<String, Dimension> args, YamlKeys map) {
    String what =
        map.required("confirm", YamlForms.text("a placeholder"), "the placeholder that was set");
    CommandTemplate ask =
        map.required("by", CommandTemplateForms.command(with(args)), "asks what is set");
    Dimension kind = args.values().stream().findFirst().orElse(Dimension.NUMBER);
    Dimension step = kind == Dimension.TEMPERATURE ? Dimension.TEMPERATURE_DIFFERENCE : kind;
    double ratio =
        map.optional(
            "to", Dimension.RATIO, 1e-5, "by how much of it the reply may differ; default 10 ppm");
    double absolute = map.optional("or to", step, 0.0, "by how much more; default 0");
    NumericQuery question = question(map, ask, kind);
    if (!args.containsKey(what)) {
      throw new IllegalArgumentException(
          "nothing called %s is set here; expected %s"
              .formatted(
                  FileMessageText.quoted(what),
                  args.isEmpty()
                      ? "a place where something is set"
                      : FileMessageText.oneOf(args.keySet())));
    }
    return new Exchange.Confirm(what, question, ratio, absolute);
  }

  private static YamlForm<Exchange> pause() {
    return YamlMapForm.of(
        "a pause", map -> new Exchange.Pause(map.required("wait", YamlForms.span(), "how long")));
  }
}
