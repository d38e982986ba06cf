-- A grid of character cells to draw on: 2 x 4 dots a cell in Braille, or one ASCII sign a cell.

local Canvas = {}
Canvas.__index = Canvas

-- bit of each dot of a Braille cell, by row and column
local bits = { { 0x01, 0x08 }, { 0x02, 0x10 }, { 0x04, 0x20 }, { 0x40, 0x80 } }

function Canvas.new(columns, rows, ascii)
  local self = setmetatable({ columns = columns, rows = rows, ascii = ascii, cells = {} }, Canvas)
  self.dots_x, self.dots_y = ascii and columns or 2 * columns, ascii and rows or 4 * rows
  return self
end

local function cell_at(self, column, row)
  if column < 0 or row < 0 or column >= self.columns or row >= self.rows then
    return nil
  end
  local index = row * self.columns + column
  self.cells[index] = self.cells[index] or { dots = 0 }
  return self.cells[index]
end

-- x, y: whole dots from the top left. `sign` stands for the dot in ASCII.
function Canvas:dot(x, y, colour, sign)
  if self.ascii then
    local cell = cell_at(self, x, y)
    if cell and not cell.sign then
      cell.sign, cell.colour = sign, colour
    end
    return
  end
  local cell = cell_at(self, x // 2, y // 4)
  if cell then
    cell.dots = cell.dots | bits[y % 4 + 1][x % 2 + 1]
    cell.colour = colour or cell.colour
  end
end

-- A sign that covers the cell of a dot.
function Canvas:mark(x, y, colour, sign)
  local cell = cell_at(self, self.ascii and x or x // 2, self.ascii and y or y // 4)
  if cell then
    cell.cover, cell.colour = sign, colour
  end
end

-- A straight stroke; `keep(step)` says which dots are drawn. Gives the number of steps taken.
function Canvas:stroke(x1, y1, x2, y2, colour, sign, keep, first)
  local steps = math.max(math.abs(x2 - x1), math.abs(y2 - y1), 1)
  for i = 0, steps do
    if keep(first + i) then
      local x, y = x1 + (x2 - x1) * i / steps, y1 + (y2 - y1) * i / steps
      self:dot(math.floor(x + 0.5), math.floor(y + 0.5), colour, sign)
    end
  end
  return first + steps
end

-- Text of one row; paint(text, colour) adds colour.
function Canvas:row(row, paint)
  local parts = {}
  for column = 0, self.columns - 1 do
    local cell = self.cells[row * self.columns + column]
    local sign = " "
    if cell then
      sign = cell.cover or cell.sign or (cell.dots > 0 and utf8.char(0x2800 + cell.dots)) or " "
    end
    parts[#parts + 1] = sign ~= " " and paint(sign, cell.colour) or sign
  end
  return table.concat(parts)
end

return Canvas
