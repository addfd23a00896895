// SPDX-License-Identifier: Apache-2.0
package millrace.logbook;

import java.sql.SQLException;
import java.util.LinkedHashMap;
import java.util.Map;
import javax.net.ssl.SSLException;
import millrace.fault.LogbookException;

/**
 * Translates errors of PostgreSQL, by their SQLSTATE, into messages that a person at the bench can
 * act on. Codes: PostgreSQL 15 documentation, appendix A.
 */
final class PostgresErrorText {
  private record Advice(String found, String remedy) {}

  /** What the driver says of a certificate of another host. */
  private static final String OTHER_HOST = "could not be verified by hostnameverifier";

  /** Whole codes before their classes, which are the first two characters. */
  private static final Map<String, Advice> BY_STATE = new LinkedHashMap<>();

  static {
    Advice password =
        new Advice(
            "the server does not let this user in",
            "Check 'user=' in the address, and the line for it in the password file (~/.pgpass).");
    BY_STATE.put("28P01", password);
    BY_STATE.put("28", password);
    BY_STATE.put("08004", password);
    BY_STATE.put(
        "3D000",
        new Advice("there is no such database", "Check the address, or ask the store's keeper."));
    BY_STATE.put(
        "42501",
        new Advice(
            "this user may not do that there",
            "Publishing and analyze want a user of role millrace_bench, --prepare one of role"
                + " millrace_keeper ('millrace publish --roles'); ask the store's keeper."));
    BY_STATE.put(
        "25006",
        new Advice(
            "it may only be read at present",
            "Name the server that is written, or ask its keeper."));
    Advice away =
        new Advice(
            "the server cannot be reached, or broke off",
            "Nothing is lost: what is in the logbook stays there. Try again when it answers.");
    BY_STATE.put("08", away);
    BY_STATE.put("57P", away);
    BY_STATE.put(
        "57014",
        new Advice(
            "it took longer than the time that was allowed",
            "Try again when the server has less to do."));
    BY_STATE.put(
        "53100", new Advice("the server's disk is full", "Tell its keeper; nothing was lost."));
    BY_STATE.put(
        "53300",
        new Advice("the server has too many connections", "Try again later, or tell its keeper."));
    Advice again =
        new Advice("somebody else wrote the same at the same time", "Say the command again.");
    BY_STATE.put("40", again);
    BY_STATE.put("55P03", again);
    BY_STATE.put(
        "23",
        new Advice(
            "the store refuses the rows",
            "'millrace show RUN --verify' tells whether it is sound."));
    BY_STATE.put(
        "42P01",
        new Advice("a table is missing there", "Ask the store's keeper: it was changed by hand."));
  }

  private PostgresErrorText() {}

  static LogbookException of(SqlEngine store, String attempt, SQLException cause) {
    Advice advice = advice(cause);
    return new LogbookException(
        "%s: %s (%s) while %s. %s"
            .formatted(store.where(), advice.found(), said(cause), attempt, advice.remedy()),
        cause);
  }

  /** Whether trying again later may help. */
  static boolean passes(Throwable error) {
    return error.getCause() instanceof SQLException sql
        && !secure(sql)
        && !state(sql).equals("08004")
        && (state(sql).startsWith("08")
            || state(sql).startsWith("57")
            || state(sql).startsWith("40")
            || state(sql).startsWith("53")
            || state(sql).equals("55P03"));
  }

  private static Advice advice(SQLException cause) {
    if (secure(cause)) {
      return unsafe(chain(cause));
    }
    String state = state(cause);
    for (int length = state.length(); length >= 2; length--) {
      Advice known = BY_STATE.get(state.substring(0, length));
      if (known != null) {
        return known;
      }
    }
    return new Advice("the server reports a fault", "Tell the store's keeper.");
  }

  private static String state(SQLException cause) {
    return cause.getSQLState() == null ? "" : cause.getSQLState();
  }

  /** Whether a connection came about that nobody reads along, or is a stranger's. */
  private static boolean secure(SQLException cause) {
    for (Throwable each = cause; each != null; each = each.getCause()) {
      if (each instanceof SSLException) {
        return true;
      }
    }
    String said = String.valueOf(cause.getMessage());
    return said.contains("SSL") || said.contains(OTHER_HOST);
  }

  private static String chain(Throwable cause) {
    StringBuilder all = new StringBuilder();
    for (Throwable each = cause; each != null; each = each.getCause()) {
      all.append(each.getMessage()).append('\n');
    }
    return all.toString();
  }

  private static Advice unsafe(String said) {
    if (said.contains(OTHER_HOST)) {
      return new Advice(
          "the server shows a certificate of another host",
          "Write the host in the address as the certificate names it. If that is what you did, this"
              + " may not be your server: ask its keeper before you go on.");
    }
    if (said.contains("validity check failed") || said.contains("NotAfter")) {
      return new Advice(
          "the server's certificate has run out, or does not count yet",
          "Compare the clock of this computer; then ask the server's keeper for a new one.");
    }
    if (said.contains("PKIX")) {
      return new Advice(
          "the server shows a certificate that is not trusted here",
          "'sslrootcert=' names the file with the certificate of who signed the server's; its"
              + " keeper has it. If it was right until now, this may not be your server: ask before"
              + " you go on.");
    }
    return new Advice(
        "no safe connection (TLS) came about",
        "Check 'sslmode=' and 'sslrootcert=' in the address against what the server's keeper"
            + " says.");
  }

  /** The server's own message on one line. */
  private static String said(SQLException e) {
    return String.valueOf(e.getMessage())
        .lines()
        .findFirst()
        .orElse("no more is known")
        .strip()
        .replaceAll("\\b[a-z]+([.][A-Za-z]+)+(Exception|Error): ", "")
        .replaceAll("[.]$", "");
  }
}
