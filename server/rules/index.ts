/** All rules, in the order of the reference: group by group. */
import allowRefused from './allow_refused.ts'
import allowUnused from './allow_unused.ts'
import balancePreloadNegative from './balance_preload_negative.ts'
import balancePush from './balance_push.ts'
import circle from './circle.ts'
import deadWraps from './dead_wraps.ts'
import derivedAssigned from './derived_assigned.ts'
import drumSag from './drum_sag.ts'
import duplicate from './duplicate.ts'
import engagementClearance from './engagement_clearance.ts'
import fastenerLoad from './fastener_load.ts'
import fastenerSpacing from './fastener_spacing.ts'
import headroom from './headroom.ts'
import likeFailed from './like_failed.ts'
import limitLoosened from './limit_loosened.ts'
import missingField from './missing_field.ts'
import preloadBalance from './preload_balance.ts'
import preloadIncrement from './preload_increment.ts'
import preloadMissing from './preload_missing.ts'
import preloadPositive from './preload_positive.ts'
import railDepth from './rail_depth.ts'
import railsBetween from './rails_between.ts'
import rateFar from './rate_far.ts'
import rateGiven from './rate_given.ts'
import requirement from './requirement.ts'
import ringUnused from './ring_unused.ts'
import serviceLife from './service_life.ts'
import shaftStress from './shaft_stress.ts'
import sideRoom from './side_room.ts'
import slatBow from './slat_bow.ts'
import slatPullOut from './slat_pull_out.ts'
import slatStress from './slat_stress.ts'
import springFatigue from './spring_fatigue.ts'
import springHand from './spring_hand.ts'
import springInDrum from './spring_in_drum.ts'
import springIndex from './spring_index.ts'
import springLength from './spring_length.ts'
import springLost from './spring_lost.ts'
import springOnShaft from './spring_on_shaft.ts'
import springWireRange from './spring_wire_range.ts'
import springYield from './spring_yield.ts'
import syntax from './syntax.ts'
import tradeWord from './trade_word.ts'
import unknownBlock from './unknown_block.ts'
import unknownField from './unknown_field.ts'
import unknownName from './unknown_name.ts'
import unknownUnit from './unknown_unit.ts'
import useFailed from './use_failed.ts'
import useOutside from './use_outside.ts'
import valueRange from './value_range.ts'
import windingDirection from './winding_direction.ts'
import windlockPull from './windlock_pull.ts'
import wrongDimension from './wrong_dimension.ts'
import wrongType from './wrong_type.ts'
import type { Rule } from './rule.ts'

export const RULES: readonly Rule[] = [
  // Language
  syntax,
  unknownName,
  unknownBlock,
  unknownField,
  unknownUnit,
  wrongDimension,
  wrongType,
  valueRange,
  duplicate,
  circle,
  missingField,
  derivedAssigned,
  useFailed,
  useOutside,
  likeFailed,
  requirement,
  allowUnused,
  allowRefused,
  limitLoosened,
  tradeWord,
  // Rails and curtain
  railsBetween,
  headroom,
  sideRoom,
  engagementClearance,
  railDepth,
  fastenerSpacing,
  fastenerLoad,
  slatStress,
  slatBow,
  slatPullOut,
  windlockPull,
  // Drum and springs
  drumSag,
  deadWraps,
  ringUnused,
  springYield,
  springFatigue,
  serviceLife,
  springWireRange,
  springIndex,
  springInDrum,
  springOnShaft,
  springLength,
  springHand,
  springLost,
  shaftStress,
  rateGiven,
  // Adjuster and balance
  preloadIncrement,
  preloadBalance,
  preloadPositive,
  preloadMissing,
  windingDirection,
  balancePush,
  balancePreloadNegative,
  rateFar,
]

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map(r => [r.id, r]))
export const ruleById = (id: string): Rule | undefined => byId.get(id)
