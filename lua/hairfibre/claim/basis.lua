-- What a figure refers to, in words: by dry or by wet mass, from which size, per kg of what. Every printed
-- sentence carries it.

local basis = {}

local TEXTS = {
  dry = "dry basis: kg water per kg dry fibre", wet = "wet basis: share of the wet mass",
  population = "a population per kg dry fibre, no share of strength",
  share = "share of a population, no share of strength",
  channel = "one damage channel by itself, no share of strength",
}

-- Patterns in their order; the first that matches a name counts. Without a text, what the quantity is says it all.
local RULES = {
  { "^regain$", TEXTS.dry }, { "^saturation_regain$", TEXTS.dry }, { "^liquid_retention$", TEXTS.dry },
  { "^regain_from_content$", TEXTS.dry }, { "^isotherm_", TEXTS.dry }, { "^moisture_content$", TEXTS.wet },
  { "^regain_slope$", "dry basis, per unit of humidity" }, { "^scanning_slope$", "dry basis, per unit of humidity" },
  { "^ph_swelling$", "growth over the volume without charge" },
  { "_swelling$", "growth over the size at the regain it starts from" },
  { "^internal_vapour_pressure$", "absolute pressure in a sealed fibre, an upper bound" },
  { "^internal_gauge_pressure$", "pressure above the ambient in a sealed fibre, an upper bound" },
  { "^internal_boiling", "sealed fibre, a lower bound for real ones" },
  { "^saturation_pressure$", "absolute pressure over pure water" },
  { "^region4_pressure$", "absolute pressure over pure water" },
  { "^isosteric_heat$", "per kg water, beyond the latent heat" }, { "^garment_heat$", "per kg water, from liquid water" },
  { "^wetting_heat$", "from that regain to saturation" }, { "^heat_capacity$", "per kg wet fibre" },
  { "^fibre_density$", "mass of the conditioned fibre over its volume" },
  { "^denaturation_temperature$", "peak of calorimetry" },
  { "^denaturation_peak$", "peak of calorimetry at the heating rate" },
  { "^disulfide_reduction_rate$" },
  { "^helix_", TEXTS.channel }, { "^tryptophan_", TEXTS.channel }, { "^disulfide_content$", TEXTS.population },
  { "^disulfide_", TEXTS.share }, { "^half_cystine_", TEXTS.share },
  { "_left$", "share of the value before treatment" },
  { "^break_force$", "force on one whole strand" },
  { "^weibull_modulus$" }, { "_over_wet$" },
  { "^strain_at_stress$", "growth over the length before stretching" }, { "^stress_at_strain$", "force over the cross-section" },
  { "^work_to_strain$" },
  { "_strain$", "growth over the length before stretching" },
  { "_stress$", "force over the cross-section" }, { "_modulus", "force over the cross-section per strain" },
}

--- Basis of a quantity's descriptor; the fallback is what the quantity is.
function basis.of(descriptor)
  for _, rule in ipairs(RULES) do
    if descriptor.name:find(rule[1]) then
      return rule[2] or descriptor.text
    end
  end
  if descriptor.unit == "mol/kg" then
    return TEXTS.population
  end
  return descriptor.text
end

--- True for a mass of water over a mass of fibre, where a figure by wet mass differs from one by dry mass.
function basis.is_by_dry_mass(descriptor)
  return basis.of(descriptor) == TEXTS.dry
end

function basis.is_by_wet_mass(descriptor)
  return basis.of(descriptor) == TEXTS.wet
end

--- By wet mass to by dry mass, and back; infinite where no dry mass is left.
function basis.dry_from_wet(x)
  return x < 1 and x / (1 - x) or math.huge
end

function basis.wet_from_dry(x)
  return x / (1 + x)
end

return basis
