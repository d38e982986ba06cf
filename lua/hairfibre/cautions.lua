-- The one line of caution under every answer about heat or chemicals.

local cautions = {}

local PURPOSE = "Bench samples on a stand only, never on a head."
local RULES = "Not advice: local rules and licensed practice come first."

cautions.bench = PURPOSE
cautions.heat = PURPOSE .. " Hot tools and steam burn. " .. RULES
cautions.chemical = PURPOSE .. " Reagents burn skin and eyes. " .. RULES
cautions.both = PURPOSE .. " Hot tools, steam and reagents burn. " .. RULES

--- Line for a descriptor (or for { heat =, chemical = }); nil when none is due.
function cautions.line(of)
  local marks = of.cautions or of
  if marks.heat then
    return marks.chemical and cautions.both or cautions.heat
  end
  return marks.chemical and cautions.chemical or nil
end

return cautions
