/** Tables and figures for spreadsheets: cells, workbooks, and what there is to pull. */
package soakbench.api.sheet;
