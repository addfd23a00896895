// SPDX-License-Identifier: Apache-2.0
package millrace.report.page;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import millrace.evidence.BudgetComponent;
import millrace.evidence.ErrorDistribution;
import millrace.evidence.MeasurementModel;
import millrace.evidence.Result;
import millrace.evidence.ResultQuantity;
import millrace.quantity.NumberText;
import millrace.quantity.QuantityText;
import millrace.report.markup.Markup;
import millrace.report.plot.PrintedUnitSymbols;
import millrace.report.words.EquivalentBudgets;
import millrace.report.words.ResultConditionWords;
import millrace.report.words.ResultFigures;

/** Budgets of a few results of one quantity, one column each. */
final class UncertaintyBudgetTable {
  /** Most estimates listed; more of them belong to the points, which have their own table. */
  private static final int FEW = 6;

  private static final String OF_POINTS = " values of points";
  private static final int CURRENT_DIGITS = 9;
  private static final int DIGITS = 6;
  private static final double LEAST_SHARE = 1e-2;

  /** Smallest share of u that is shown in figures; smaller components are only named. */
  private static final double LEAST_SHOWN = 1e-3;

  /**
   * Share that counts as a rounding error: the component cancels in one result and exists in
   * another.
   */
  private static final double ROUNDING = 1e-7;

  private final ReportContext sheet;
  private final Markup out;
  private final List<Result> results;
  private final EquivalentBudgets kin;
  private final String unit;

  /** The identity of a component, which some results have and others lack. */
  private record Name(String component, String group, String unit, ErrorDistribution distribution) {
    static Name of(BudgetComponent c) {
      return new Name(c.component(), c.group(), c.unit(), c.distribution());
    }
  }

  UncertaintyBudgetTable(ReportContext sheet, List<Result> results, EquivalentBudgets kin) {
    this.sheet = sheet;
    this.out = sheet.out();
    this.results = results;
    this.kin = kin;
    this.unit = results.get(0).quantity().unit();
  }

  void write() {
    out.line().open("table").element("caption", caption()).open("tbody");
    row("Result, at", this::heading, "head");
    row("u, \u03bd", r -> cell(combined(r)), "head");
    model();
    kin.of(results.get(0)).stream().map(Result::quantity).distinct().forEach(this::kin);
    Set<Name> listed = new LinkedHashSet<>();
    Set<Name> small = new LinkedHashSet<>();
    names().forEach(n -> (listed(n) ? listed : small).add(n));
    listed.forEach(this::component);
    rest(small);
    out.close().close();
  }

  private String caption() {
    Set<String> ranges = new LinkedHashSet<>();
    results.forEach(r -> ranges.add(r.range().orElse("whole unit")));
    String what =
        Stream.concat(Stream.of(results.get(0)), kin.of(results.get(0)).stream())
            .map(r -> r.quantity().inWords())
            .distinct()
            .collect(Collectors.joining(", "));
    return what.substring(0, 1).toUpperCase(Locale.ROOT)
        + what.substring(1)
        + (ranges.size() == 1 ? ", " + ranges.iterator().next() : "");
  }

  /** A cell of a row with custom markup. */
  private interface Cell {
    void write(Markup out);
  }

  private static Cell cell(String text) {
    return out -> out.text(text);
  }

  private void row(String head, Function<Result, Cell> cells, String kind) {
    out.line().open("tr", "class", kind).element("th", head, "scope", "row");
    for (Result r : results) {
      out.open("td", "class", "figures");
      cells.apply(r).write(out);
      out.close();
    }
    out.close();
  }

  private Cell heading(Result r) {
    String number = String.valueOf(sheet.number(r));
    boolean several = results.stream().map(Result::range).distinct().count() > 1;
    String at =
        Stream.of(several ? r.range().orElse("") : "", ResultConditionWords.of(r.at()))
            .filter(s -> !s.isEmpty())
            .map(PrintedUnitSymbols::of)
            .collect(Collectors.joining(", "));
    return o -> {
      o.element("a", number, "href", "#r" + number, "id", sheet.named("b" + number));
      for (String part : at.split(", ")) {
        o.lone("br").text(part);
      }
    };
  }

  private static String combined(Result r) {
    return ResultFigures.uncertainty(r)
        .map(
            u ->
                PrintedUnitSymbols.of(ResultFigures.size(u.standard(), r.quantity().unit()))
                    + ", "
                    + degrees(u.degreesOfFreedom()))
        .orElse("");
  }

  private static String degrees(OptionalDouble degrees) {
    return degrees.isPresent() ? ResultFigures.degrees(degrees) : "\u221e";
  }

  private void wide(String text) {
    out.line().open("tr", "class", "told");
    out.element("td", text, "colspan", String.valueOf(results.size() + 1), "class", "rest");
    out.close();
  }

  /**
   * Writes the equations and the estimates x_i. Estimates that are the same for all results, and
   * those of points, take one line; each other estimate takes a row.
   */
  private void model() {
    List<String> same = new ArrayList<>();
    Stream.concat(results.stream(), kin.of(results.get(0)).stream())
        .flatMap(r -> r.model().stream())
        .map(MeasurementModel::equation)
        .distinct()
        .forEach(e -> same.add(PrintedUnitSymbols.of(e)));
    Set<String> symbols = new LinkedHashSet<>();
    results.stream()
        .flatMap(r -> r.model().stream())
        .flatMap(m -> m.inputs().stream())
        .forEach(i -> symbols.add(i.symbol()));
    for (String symbol : symbols) {
      List<List<String>> all = results.stream().map(r -> figures(r, symbol)).distinct().toList();
      if (all.size() == 1) {
        same.add(PrintedUnitSymbols.of(symbol) + " = " + String.join(", ", all.get(0)));
      } else if (all.stream().allMatch(l -> l.size() == 1 && l.get(0).endsWith(OF_POINTS))) {
        String counts =
            results.stream()
                .map(r -> figures(r, symbol).get(0).replace(OF_POINTS, ""))
                .collect(Collectors.joining(", "));
        same.add(PrintedUnitSymbols.of(symbol) + ": " + counts + OF_POINTS);
      } else {
        same.add(PrintedUnitSymbols.of(symbol) + " = " + each(symbol));
      }
    }
    if (!same.isEmpty()) {
      wide(String.join("; ", same));
    }
  }

  /** The estimates of all results, in sequence. */
  private String each(String symbol) {
    return results.stream()
        .map(r -> String.join(", ", figures(r, symbol)))
        .map(s -> s.isEmpty() ? "none" : s)
        .collect(Collectors.joining(" | "));
  }

  private static List<String> figures(Result r, String symbol) {
    return r.model().stream()
        .flatMap(m -> m.inputs().stream())
        .filter(i -> i.symbol().equals(symbol))
        .findFirst()
        .map(UncertaintyBudgetTable::figures)
        .orElse(List.of());
  }

  private static List<String> figures(MeasurementModel.Input input) {
    List<Double> all = input.estimates();
    if (all.size() > FEW) {
      return List.of(all.size() + OF_POINTS);
    }
    double largest = all.stream().mapToDouble(Math::abs).max().orElse(0);
    QuantityText.Scale scale = ResultFigures.scale(largest, input.unit());
    int digits = input.unit().equals("A") ? CURRENT_DIGITS : DIGITS;
    return all.stream()
        .map(x -> NumberText.significant(x / scale.size(), digits) + " " + scale.symbol())
        .map(s -> PrintedUnitSymbols.of(s.strip()))
        .toList();
  }

  /** Writes a quantity that follows from the first: its u, and the factor of |c|. */
  private void kin(ResultQuantity quantity) {
    row(
        quantity.inWords() + ": u, factor on |c|",
        r -> o -> kin.of(r).stream().filter(k -> k.quantity() == quantity).forEach(k -> kin(r, k)),
        "");
  }

  private void kin(Result leader, Result k) {
    String number = String.valueOf(sheet.number(k));
    String factor =
        PrintedUnitSymbols.of(NumberText.significant(EquivalentBudgets.factor(leader, k), 3));
    out.open("div")
        .element("a", number, "href", "#r" + number, "id", sheet.named("b" + number))
        .text(": " + combined(k).replaceFirst(", .*", ""));
    line("\u00d7 " + factor);
    out.close();
  }

  /** All components, in falling order of their largest share. */
  private List<Name> names() {
    Set<Name> all = new LinkedHashSet<>();
    results.forEach(r -> r.budget().forEach(c -> all.add(Name.of(c))));
    List<Name> sorted = new ArrayList<>(all);
    sorted.sort(Comparator.comparingDouble((Name n) -> share(n)).reversed());
    return sorted;
  }

  /** The largest share of a component in any of the results. */
  private double share(Name name) {
    return results.stream().mapToDouble(r -> share(r, name)).max().orElse(0);
  }

  private static double share(Result r, Name name) {
    double whole = ResultFigures.uncertainty(r).map(u -> u.standard()).orElse(0.0);
    return of(r, name).map(c -> whole > 0 ? c.contribution() / whole : 1).orElse(0.0);
  }

  private boolean listed(Name name) {
    return share(name) >= LEAST_SHARE;
  }

  private static Optional<BudgetComponent> of(Result r, Name name) {
    return r.budget().stream().filter(c -> Name.of(c).equals(name)).findFirst();
  }

  private void component(Name name) {
    List<BudgetComponent> all = results.stream().flatMap(r -> of(r, name).stream()).toList();
    Optional<String> u =
        alike(all, c -> PrintedUnitSymbols.of(ResultFigures.size(c.value(), c.unit())));
    Optional<String> degrees = alike(all, c -> degrees(c.degreesOfFreedom()));
    String shape =
        name.distribution() == ErrorDistribution.RECTANGULAR ? "rect." : name.distribution().text();
    out.line().open("tr").open("th", "scope", "row").text(name.component());
    String below =
        " (%s), %s%s%s"
            .formatted(
                name.group(),
                shape,
                u.map(x -> ", u " + x).orElse(""),
                degrees.map(d -> ", \u03bd " + d).orElse(""));
    out.element("span", below, "class", "at").close();
    for (Result r : results) {
      out.open("td", "class", "figures");
      of(r, name).ifPresent(c -> component(c, u.isEmpty(), degrees.isEmpty()));
      out.close();
    }
    out.close();
  }

  private void component(BudgetComponent c, boolean withU, boolean withDegrees) {
    double signed = Math.copySign(c.contribution(), c.sensitivity());
    out.text(
        PrintedUnitSymbols.of(
            (signed < 0 ? "-" : "") + ResultFigures.size(c.contribution(), unit)));
    if (withU) {
      line("u " + PrintedUnitSymbols.of(ResultFigures.size(c.value(), c.unit())));
    }
    if (withDegrees) {
      line("\u03bd " + degrees(c.degreesOfFreedom()));
    }
  }

  private void line(String text) {
    out.lone("br").element("span", text, "class", "at");
  }

  private static Optional<String> alike(
      List<BudgetComponent> all, Function<BudgetComponent, String> words) {
    List<String> distinct = all.stream().map(words).distinct().toList();
    return distinct.size() == 1 ? Optional.of(distinct.get(0)) : Optional.empty();
  }

  /**
   * Writes the negligible components: each with its contributions, and their sum as independent
   * components.
   */
  private void rest(Set<Name> small) {
    List<Name> some = small.stream().filter(n -> share(n) > LEAST_SHARE * ROUNDING).toList();
    if (some.isEmpty()) {
      return;
    }
    String together =
        results.stream().map(r -> together(r, some)).collect(Collectors.joining(", "));
    String each =
        some.stream()
            .filter(n -> share(n) >= LEAST_SHOWN)
            .map(this::each)
            .collect(Collectors.joining("; "));
    String least =
        some.stream()
            .filter(n -> share(n) < LEAST_SHOWN)
            .map(Name::component)
            .distinct()
            .collect(Collectors.joining(", "));
    wide(
        "Below 1 %, together "
            + together
            + ": "
            + each
            + (each.isEmpty() || least.isEmpty() ? "" : "; ")
            + (least.isEmpty() ? "" : "below 0.1 %: " + least));
  }

  private String together(Result r, List<Name> some) {
    double squares =
        some.stream()
            .flatMap(n -> of(r, n).stream())
            .mapToDouble(c -> c.contribution() * c.contribution())
            .sum();
    return PrintedUnitSymbols.of(ResultFigures.size(Math.sqrt(squares), unit));
  }

  private String each(Name name) {
    List<String> figures =
        results.stream()
            .map(
                r ->
                    of(r, name)
                        .map(c -> PrintedUnitSymbols.of(ResultFigures.size(c.contribution(), unit)))
                        .orElse("none"))
            .toList();
    boolean one = figures.stream().distinct().count() == 1;
    return name.component() + " " + (one ? figures.get(0) : String.join(", ", figures));
  }
}
