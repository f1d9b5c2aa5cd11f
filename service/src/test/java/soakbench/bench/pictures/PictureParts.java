package soakbench.bench.pictures;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * The file beside the pictures that says what the pages consisted of when they were taken: of each
 * picture its name, and indented below it a part a line.
 */
final class PictureParts {
  static final String FILE = "pictures.txt";

  private static final String INDENT = "  ";

  private PictureParts() {}

  static void write(Path folder, Map<Picture, Pictured> taken) throws IOException {
    List<String> lines = new ArrayList<>();
    taken.forEach(
        (picture, pictured) -> {
          lines.add(picture.file());
          pictured.parts().forEach(part -> lines.add(INDENT + part));
        });
    Files.write(folder.resolve(FILE), lines);
  }

  /** By name of the picture. */
  static Map<String, List<String>> read(Path folder) throws IOException {
    Map<String, List<String>> found = new LinkedHashMap<>();
    List<String> parts = List.of();
    for (String line : Files.readAllLines(folder.resolve(FILE))) {
      if (line.startsWith(INDENT)) {
        parts.add(line.substring(INDENT.length()));
      } else {
        parts = new ArrayList<>();
        found.put(line, parts);
      }
    }
    return found;
  }
}
