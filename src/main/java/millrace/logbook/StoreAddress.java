// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import millrace.fault.BadInputException;
import millrace.fault.FilePlace;
import millrace.fault.InputFault;

/**
 * Where a store of runs is: {@code jdbc:postgresql://HOST[:PORT]/DATABASE[?NAME=VALUE&...]}, as
 * PostgreSQL's driver defines it. A password never stands in it: the driver takes that from the
 * password file ({@code ~/.pgpass}, or the one that {@code PGPASSFILE} names). Immutable.
 */
public final class StoreAddress {
  private static final Pattern FORM =
      Pattern.compile("(jdbc:postgresql://[^/?#@\\s]+/[^/?#@\\s]+)(?:\\?(\\S*))?");
  private static final Pattern PASSWORD =
      Pattern.compile("password|passwd|pwd", Pattern.CASE_INSENSITIVE);
  private static final Pattern SCHEMA = Pattern.compile("[a-z_][a-z0-9_]{0,62}");

  /**
   * Options that say who connects, how safely and how long to wait; no other reaches the driver.
   */
  private static final List<String> OPTIONS =
      List.of(
          "user",
          "sslmode",
          "sslrootcert",
          "sslcert",
          "sslkey",
          "channelBinding",
          "gssEncMode",
          "currentSchema",
          "connectTimeout",
          "socketTimeout",
          "targetServerType",
          "ApplicationName");

  private static final List<String> MODES =
      List.of("disable", "allow", "prefer", "require", "verify-ca", "verify-full");

  private final String shown;
  private final Map<String, String> options;

  private StoreAddress(String shown, Map<String, String> options) {
    this.shown = shown;
    this.options = Map.copyOf(options);
  }

  /**
   * Reads an address.
   *
   * @param text as in {@code jdbc:postgresql://store.lab/millrace?user=bench_3&sslmode=verify-full}
   * @return the address
   * @throws BadInputException if it has another form, an option that is not passed on, or a
   *     password
   */
  public static StoreAddress of(String text) {
    Matcher form = FORM.matcher(text);
    if (!form.matches()) {
      throw refused(
          safe(text),
          "this is not the address of a store",
          "jdbc:postgresql://HOST/DATABASE, and '?user=NAME&sslmode=verify-full' behind it where"
              + " they are needed",
          "Write it so, in quotes.");
    }
    Map<String, String> options = new LinkedHashMap<>();
    String given = form.group(2) == null ? "" : form.group(2);
    for (String one : given.split("&", -1)) {
      if (!one.isEmpty()) {
        String[] both = one.split("=", 2);
        put(form.group(1), options, both[0], both.length == 2 ? both[1] : "");
      }
    }
    return new StoreAddress(form.group(1), options);
  }

  /** The text as a screen may show it: without what may be a password. */
  private static String safe(String text) {
    boolean secret = text.contains("@") || PASSWORD.matcher(text).find();
    return secret ? "the address of the store (not shown: a password may be in it)" : bare(text);
  }

  private static String bare(String text) {
    return text.replaceAll("[?].*", "");
  }

  private static void put(String shown, Map<String, String> options, String name, String value) {
    if (PASSWORD.matcher(name).find()) {
      throw refused(
          shown,
          "there is a password in it, which others of this machine can read on the command line",
          "no password",
          "Take it out, change it on the server, and put the new one into the file ~/.pgpass, as"
              + " HOST:5432:DATABASE:USER:PASSWORD, which nobody else may read (chmod 600).");
    }
    if (!OPTIONS.contains(name)) {
      throw refused(
          shown, "the option '" + name + "' is not known", String.join(", ", OPTIONS), "Leave it.");
    }
    if (name.equals("currentSchema") && !SCHEMA.matcher(value).matches()) {
      throw refused(
          shown,
          "the schema '" + value + "'",
          "a name of small letters, digits and underscores",
          "Choose such a name.");
    }
    if (name.equals("sslmode") && !MODES.contains(value)) {
      throw refused(
          shown,
          "the option 'sslmode=" + value + "'",
          String.join(", ", MODES),
          "'verify-full' is the one that nobody reads along and no other server can pass.");
    }
    options.put(name, value);
  }

  private static BadInputException refused(
      String where, String found, String expected, String remedy) {
    return new BadInputException(new InputFault(FilePlace.of(where), found, expected, remedy));
  }

  /**
   * The same store for who rather goes on without an answer than waits.
   *
   * @param seconds how long a connection and each answer may take, where the address does not say
   * @return the address
   */
  public StoreAddress within(int seconds) {
    Map<String, String> all = new LinkedHashMap<>(options);
    all.putIfAbsent("connectTimeout", String.valueOf(seconds));
    all.putIfAbsent("socketTimeout", String.valueOf(seconds));
    return new StoreAddress(shown, all);
  }

  /** Without its options. */
  String shown() {
    return shown;
  }

  /** The schema that the tables are in. */
  String schema() {
    return options.getOrDefault("currentSchema", "millrace");
  }

  /** How long a server may take to answer, s; empty where the address does not say. */
  Optional<String> connectTimeout() {
    return Optional.ofNullable(options.get("connectTimeout"));
  }

  /** The address as the driver takes it. */
  String url() {
    List<String> all = new ArrayList<>();
    options.forEach((name, value) -> all.add(name + "=" + value));
    return all.isEmpty() ? shown : shown + "?" + String.join("&", all);
  }

  /**
   * The address as it is typed again.
   *
   * @return with its options
   */
  @Override
  public String toString() {
    return url();
  }
}
