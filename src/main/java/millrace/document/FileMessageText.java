// SPDX-License-Identifier: Apache-2.0
package millrace.document;

import java.io.IOException;
import java.nio.file.AccessDeniedException;
import java.nio.file.FileSystemException;
import java.nio.file.NoSuchFileException;
import java.util.Collection;
import java.util.Locale;
import java.util.Optional;
import java.util.stream.Collectors;
import millrace.quantity.NumberText;

/** Common wording of messages about files: quoting, lists, near misses. */
public final class FileMessageText {
  private static final int SHOWN_CHARACTERS = 60;

  private FileMessageText() {}

  /**
   * Quotes a text for a message: cut to a readable length, control characters visible.
   *
   * @param text any text
   * @return the text in single quotes
   */
  public static String quoted(String text) {
    String shown =
        text.length() > SHOWN_CHARACTERS ? text.substring(0, SHOWN_CHARACTERS) + "..." : text;
    return "'" + plainly(shown) + "'";
  }

  /**
   * Makes control characters of a text visible.
   *
   * @param text any text
   * @return the text on one line
   */
  public static String plainly(String text) {
    StringBuilder out = new StringBuilder();
    text.codePoints()
        .forEach(
            c -> {
              if (Character.isISOControl(c) || Character.getType(c) == Character.FORMAT) {
                out.append(NumberText.format("\\u%04x", c));
              } else {
                out.appendCodePoint(c);
              }
            });
    return out.toString();
  }

  /**
   * The reason that the system refused an operation on a file or folder.
   *
   * @param e the exception
   * @return a few words, without the name of the file if the system separates it
   */
  public static String reason(IOException e) {
    if (e instanceof AccessDeniedException) {
      return "permission denied";
    } else if (e instanceof NoSuchFileException) {
      return "no such file or folder";
    } else if (e instanceof FileSystemException f && f.getReason() != null) {
      return f.getReason();
    }
    return e.getMessage() == null ? e.getClass().getSimpleName() : e.getMessage();
  }

  /**
   * Lists words for a message.
   *
   * @param words the words
   * @return for example {@code 'a', 'b' or 'c'}
   */
  public static String oneOf(Collection<String> words) {
    String all = words.stream().map(FileMessageText::quoted).collect(Collectors.joining(", "));
    int last = all.lastIndexOf(", ");
    return last < 0 ? all : all.substring(0, last) + " or " + all.substring(last + 2);
  }

  /**
   * Finds the word that was probably meant: the one with the fewest changed letters, if those are
   * few for its length.
   *
   * @param written what was written
   * @param known the words there are
   * @return the near miss; empty if nothing is near
   */
  public static Optional<String> nearest(String written, Collection<String> known) {
    String best = null;
    int bestDistance = Integer.MAX_VALUE;
    String plain = plain(written);
    for (String word : known) {
      int distance = distance(plain, plain(word));
      if (distance < bestDistance) {
        best = word;
        bestDistance = distance;
      }
    }
    boolean near = best != null && bestDistance <= Math.max(1, best.length() / 3);
    return near ? Optional.ofNullable(best) : Optional.empty();
  }

  /**
   * The remedy for an unknown word.
   *
   * @param written what was written
   * @param known the words there are
   * @return {@code Did you mean 'x'?}, or an empty text
   */
  public static String didYouMean(String written, Collection<String> known) {
    return nearest(written, known).map(w -> "Did you mean " + quoted(w) + "?").orElse("");
  }

  private static String plain(String word) {
    String cut = word.length() > 100 ? word.substring(0, 100) : word;
    return cut.toLowerCase(Locale.ROOT).replace('_', ' ').replace('-', ' ');
  }

  /** Edit distance; a swap of neighbours counts once (optimal string alignment). */
  private static int distance(String a, String b) {
    int[][] d = new int[a.length() + 1][b.length() + 1];
    for (int i = 0; i <= a.length(); i++) {
      d[i][0] = i;
    }
    for (int j = 0; j <= b.length(); j++) {
      d[0][j] = j;
    }
    for (int i = 1; i <= a.length(); i++) {
      for (int j = 1; j <= b.length(); j++) {
        int change = a.charAt(i - 1) == b.charAt(j - 1) ? 0 : 1;
        d[i][j] = Math.min(Math.min(d[i - 1][j] + 1, d[i][j - 1] + 1), d[i - 1][j - 1] + change);
        if (i > 1
            && j > 1
            && a.charAt(i - 1) == b.charAt(j - 2)
            && a.charAt(i - 2) == b.charAt(j - 1)) {
          d[i][j] = Math.min(d[i][j], d[i - 2][j - 2] + 1);
        }
      }
    }
    return d[a.length()][b.length()];
  }
}
