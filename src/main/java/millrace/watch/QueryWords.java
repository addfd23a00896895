// SPDX-License-Identifier: Apache-2.0
package millrace.watch;

import java.net.URLDecoder;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Names and values of a query string or a form; the first value of a name counts where one is asked
 * for.
 */
final class QueryWords {
  private static final int MOST = 600;

  private final Map<String, List<String>> values;

  private QueryWords(Map<String, List<String>> values) {
    this.values = values;
  }

  /**
   * Reads them (WHATWG URL standard, application/x-www-form-urlencoded).
   *
   * @param text the text as received; null for none
   * @throws IllegalArgumentException if it is malformed or has too many values
   */
  static QueryWords of(@org.jspecify.annotations.Nullable String text) {
    Map<String, List<String>> values = new LinkedHashMap<>();
    if (text == null || text.isEmpty()) {
      return new QueryWords(values);
    }
    String[] pairs = text.split("&", MOST + 1);
    if (pairs.length > MOST) {
      throw new IllegalArgumentException("too many values");
    }
    for (String pair : pairs) {
      int cut = pair.indexOf('=');
      String name = decoded(cut < 0 ? pair : pair.substring(0, cut));
      String value = cut < 0 ? "" : decoded(pair.substring(cut + 1));
      values.computeIfAbsent(name, n -> new ArrayList<>()).add(value);
    }
    return new QueryWords(values);
  }

  private static String decoded(String text) {
    return URLDecoder.decode(text, StandardCharsets.UTF_8);
  }

  /** The first value of a name, stripped; empty where it is missing or blank. */
  Optional<String> one(String name) {
    return all(name).stream().map(String::strip).filter(v -> !v.isEmpty()).findFirst();
  }

  List<String> all(String name) {
    return List.copyOf(values.getOrDefault(name, List.of()));
  }

  /** The first value of each name. */
  Map<String, String> first() {
    Map<String, String> first = new LinkedHashMap<>();
    values.forEach((name, all) -> first.put(name, all.get(0)));
    return first;
  }
}
