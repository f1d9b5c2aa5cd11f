package soakbench.api.sheet;

import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import javax.xml.parsers.DocumentBuilderFactory;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/** The cells of the first sheet of a flat OpenDocument file, with their types. */
record SheetCells(List<List<TypedCell>> rows) {
  private static final int MOST_REPEATED = 1_000;

  /**
   * One cell.
   *
   * @param type string, float, date, boolean or error; empty for an empty one
   * @param value as the file has it, whatever the language
   */
  record TypedCell(String type, String value) {}

  static SheetCells read(Path file) throws Exception {
    return read(file, 0);
  }

  static SheetCells read(Path file, int sheet) throws Exception {
    Element document =
        DocumentBuilderFactory.newInstance()
            .newDocumentBuilder()
            .parse(file.toFile())
            .getDocumentElement();
    Element table = (Element) document.getElementsByTagName("table:table").item(sheet);
    List<List<TypedCell>> rows = new ArrayList<>();
    NodeList all = table.getElementsByTagName("table:table-row");
    for (int i = 0; i < all.getLength(); i++) {
      rows.add(cells((Element) all.item(i)));
    }
    return new SheetCells(rows);
  }

  private static List<TypedCell> cells(Element row) {
    List<TypedCell> cells = new ArrayList<>();
    NodeList all = row.getElementsByTagName("table:table-cell");
    for (int i = 0; i < all.getLength(); i++) {
      Element cell = (Element) all.item(i);
      String repeated = cell.getAttribute("table:number-columns-repeated");
      int count = repeated.isEmpty() ? 1 : Integer.parseInt(repeated);
      for (int j = 0; j < Math.min(count, MOST_REPEATED); j++) {
        cells.add(cell(cell));
      }
    }
    return cells;
  }

  private static TypedCell cell(Element cell) {
    String type = cell.getAttribute("calcext:value-type");
    String value =
        switch (type) {
          case "float" -> cell.getAttribute("office:value");
          case "date" -> cell.getAttribute("office:date-value");
          case "boolean" -> cell.getAttribute("office:boolean-value");
          default -> cell.getTextContent().strip();
        };
    return new TypedCell(type, value);
  }

  /** The cell under a heading, in the row that begins with this text. */
  TypedCell at(String row, String heading) {
    for (int i = 0; i < rows.size(); i++) {
      for (int column = 0; column < rows.get(i).size(); column++) {
        if (rows.get(i).get(column).value().equals(heading)) {
          return rowOf(row, i).get(column);
        }
      }
    }
    throw new AssertionError("no column " + heading + " in " + rows);
  }

  private List<TypedCell> rowOf(String first, int below) {
    return rows.subList(below, rows.size()).stream()
        .filter(cells -> !cells.isEmpty() && cells.get(0).value().equals(first))
        .findFirst()
        .orElseThrow(() -> new AssertionError("no row " + first + " in " + rows));
  }
}
