package millrace.bench.driver;

import com.google.re2j.Pattern;
import java.time.Duration;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import millrace.bench.driver.DriverFile.Errors;
import millrace.bench.driver.DriverFile.Identity;
import millrace.bench.driver.DriverFile.RoleCommands;
import millrace.bench.role.MeterRange;
import millrace.bench.role.RoleName;
import millrace.document.Form;
import millrace.document.Forms;
import millrace.document.MapForm;
import millrace.document.MapForm.Key;
import millrace.quantity.Dimension;

/** How a driver file is written. */
public final class DriverForms {
  private DriverForms() {}

  /** The form of a driver file. */
  public static final Form<DriverFile> DRIVER = driver();

  private static Form<DriverFile> driver() {
    MapForm.Builder map = MapForm.of("a driver file");
    Key<String> name = map.required("driver", Forms.text("a name"), "what bench files ask for");
    map.optional("about", Forms.text("a remark"), "a remark for people");
    Key<Optional<Identity>> identity = map.optional("identity", identity(), "who it is");
    Key<String> ending =
        map.optional("line ending", lineEnding(), "\n", "LF (default), CR, CRLF or none");
    Key<Duration> within =
        map.optional("reply within", span(), Duration.ofSeconds(2), "default 2 s");
    Key<Optional<Errors>> errors = map.optional("errors", errors(), "how complaints are read");
    Key<Double> overload =
        map.optional(
            "overload from",
            Forms.quantity(Dimension.NUMBER),
            DriverFile.SCPI_OVERLOAD,
            "numbers at or beyond are an overload; default 9.9e37");
    Key<Optional<Pattern>> overloadReply =
        map.optional("overload reply", Forms.pattern(), "replies that mean an overload");
    Key<Optional<Pattern>> noNumber =
        map.optional("no number reply", Forms.pattern(), "replies that mean no number");
    Key<List<Exchange>> start =
        map.optional("start", exchanges(Map.of()), List.of(), "said once after opening");
    Key<List<Exchange>> safe =
        map.optional("safe", exchanges(Map.of()), List.of(), "puts it in its safe state");
    List<Key<Optional<RoleCommands>>> roles = new ArrayList<>();
    RoleGrammar.ROLES.forEach(
        (role, grammar) ->
            roles.add(map.optional(role.text(), role(role, grammar), "what it does in this role")));
    return map.reads(
        v ->
            new DriverFile(
                v.get(name),
                v.get(identity),
                v.get(ending),
                v.get(within),
                v.get(errors),
                v.get(overload),
                v.get(overloadReply),
                v.get(noNumber),
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

  private static Form<String> lineEnding() {
    Map<String, String> words = new LinkedHashMap<>();
    words.put("LF", "\n");
    words.put("CR", "\r");
    words.put("CRLF", "\r\n");
    words.put("none", "");
    return Forms.choice(words);
  }

  private static Form<Duration> span() {
    return Forms.map(
        Forms.where(Forms.quantity(Dimension.TIME), s -> s > 0, "a time span above 0"),
        s -> Duration.ofNanos(Math.round(s * 1e9)));
  }

  private static Form<Identity> identity() {
    MapForm.Builder map = MapForm.of("how to ask who it is");
    Key<String> ask = map.required("ask", Forms.text("a question"), "the question");
    Key<Pattern> matches = map.required("matches", Forms.pattern(), "what the reply must match");
    return map.reads(v -> new Identity(v.get(ask), v.get(matches)));
  }

  private static Form<Errors> errors() {
    MapForm.Builder map = MapForm.of("how complaints are read");
    Key<String> ask = map.required("ask", Forms.text("a question"), "asked until there is none");
    Key<Pattern> none = map.required("none", Forms.pattern(), "the reply when there is none");
    return map.reads(v -> new Errors(v.get(ask), v.get(none)));
  }

  private static Form<RoleCommands> role(RoleName role, RoleGrammar.Role grammar) {
    MapForm.Builder map = MapForm.of("the role " + role.text());
    Map<String, Key<Optional<List<Exchange>>>> actions = new LinkedHashMap<>();
    grammar
        .required()
        .forEach(
            (action, args) -> {
              Form<Optional<List<Exchange>>> form = Forms.map(exchanges(args), Optional::of);
              actions.put(action, map.required(action, form, "said to " + action));
            });
    grammar
        .optional()
        .forEach(
            (action, args) ->
                actions.put(action, map.optional(action, exchanges(args), "said to " + action)));
    Map<String, Key<Optional<Question>>> numbers = new LinkedHashMap<>();
    grammar
        .numbers()
        .forEach(
            (number, kind) ->
                numbers.put(number, map.optional(number, question(kind), "asks for a number")));
    Key<List<MeterRange>> ranges =
        map.optional("ranges", Forms.list(range(grammar), 1), List.of(), "ranges of a meter");
    return map.reads(
        v -> {
          Map<String, List<Exchange>> said = new LinkedHashMap<>();
          actions.forEach((action, key) -> v.get(key).ifPresent(e -> said.put(action, e)));
          Map<String, Question> asked = new LinkedHashMap<>();
          numbers.forEach((number, key) -> v.get(key).ifPresent(q -> asked.put(number, q)));
          requireReading(role, grammar, asked);
          requireRanges(role, grammar, v.get(ranges));
          return new RoleCommands(said, asked, v.get(ranges));
        });
  }

  private static void requireReading(
      RoleName role, RoleGrammar.Role grammar, Map<String, Question> asked) {
    if (!grammar.numbers().isEmpty() && !asked.containsKey("read")) {
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

  private static Form<MeterRange> range(RoleGrammar.Role grammar) {
    Dimension kind = grammar.numbers().getOrDefault("read", Dimension.NUMBER);
    MapForm.Builder map = MapForm.of("a meter range");
    Key<Double> full = map.required("full scale", Forms.quantity(kind), "what it is called by");
    Key<Optional<Double>> highest =
        map.optional("highest", Forms.quantity(kind), "highest reading; default the full scale");
    Key<Optional<Double>> resolution =
        map.optional("resolution", Forms.quantity(kind), "least step of a reading");
    return map.reads(
        v ->
            new MeterRange(
                v.get(full), v.get(highest).orElse(v.get(full)), v.get(resolution).orElse(0.0)));
  }

  private static Form<Question> question(Dimension kind) {
    MapForm.Builder map = MapForm.of("a question for a number");
    Key<String> ask = map.required("ask", Forms.text("a question"), "the question");
    Key<Optional<Pattern>> number =
        map.optional("number", Forms.pattern(), "takes the number by its first group");
    Key<Optional<String>> unit =
        map.optional("unit", Forms.text("a unit"), "what the number counts; default base units");
    Key<Optional<Duration>> within = map.optional("within", span(), "longest wait for the reply");
    return map.reads(
        v ->
            new Question(
                Template.parse(v.get(ask), Map.of()),
                v.get(number).map(DriverForms::withGroup),
                v.get(unit).map(u -> Template.unitSize(u, kind)).orElse(1.0),
                0,
                v.get(within)));
  }

  private static Pattern withGroup(Pattern pattern) {
    if (pattern.groupCount() < 1) {
      throw new IllegalArgumentException(
          "the pattern '%s' has no group; expected one that takes the number, as in '= (.*)'"
              .formatted(pattern.pattern()));
    }
    return pattern;
  }

  private static Form<List<Exchange>> exchanges(Map<String, Dimension> known) {
    Form<Exchange> send =
        Forms.map(Forms.text("a command"), text -> new Exchange.Send(Template.parse(text, known)));
    Map<String, Form<? extends Exchange>> kinds = new LinkedHashMap<>();
    kinds.put("ask", ask(known));
    kinds.put("wait", pause());
    return Forms.list(Forms.scalarOr(send, Forms.byKey("an exchange", kinds)), 0);
  }

  private static Form<Exchange> ask(Map<String, Dimension> known) {
    MapForm.Builder map = MapForm.of("a question");
    Key<String> ask = map.required("ask", Forms.text("a question"), "the question");
    Key<Optional<Pattern>> expect =
        map.optional("expect", Forms.pattern(), "what the reply must match");
    Key<Optional<Duration>> until =
        map.optional("repeat for", span(), "repeat until it matches, at most this long");
    Key<Duration> every =
        map.optional("every", span(), Duration.ofMillis(200), "pause between; default 200 ms");
    return map.reads(
        v ->
            new Exchange.Ask(
                Template.parse(v.get(ask), known), v.get(expect), v.get(until), v.get(every)));
  }

  private static Form<Exchange> pause() {
    MapForm.Builder map = MapForm.of("a pause");
    Key<Duration> wait = map.required("wait", span(), "how long");
    return map.reads(v -> new Exchange.Pause(v.get(wait)));
  }
}
