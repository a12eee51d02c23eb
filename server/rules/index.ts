/** All rules, in the order of the reference: group by group. */
import allowRefused from './allow_refused.ts'
import allowUnused from './allow_unused.ts'
import balancePreloadNegative from './balance_preload_negative.ts'
import balancePush from './balance_push.ts'
import chainEven from './chain_even.ts'
import chainStrength from './chain_strength.ts'
import circle from './circle.ts'
import crankForce from './crank_force.ts'
import deadWraps from './dead_wraps.ts'
import deliveryDamage from './delivery_damage.ts'
import deliveryMissing from './delivery_missing.ts'
import derivedAssigned from './derived_assigned.ts'
import doorHolds from './door_holds.ts'
import doorSpeed from './door_speed.ts'
import drumSag from './drum_sag.ts'
import duplicate from './duplicate.ts'
import engagementClearance from './engagement_clearance.ts'
import fastenerLoad from './fastener_load.ts'
import fastenerSpacing from './fastener_spacing.ts'
import handChainPull from './hand_chain_pull.ts'
import handoverOpen from './handover_open.ts'
import headroom from './headroom.ts'
import hoodSupports from './hood_supports.ts'
import inspectionDue from './inspection_due.ts'
import installedBetween from './installed_between.ts'
import installedChain from './installed_chain.ts'
import installedDirection from './installed_direction.ts'
import installedDrumLevel from './installed_drum_level.ts'
import installedIncrements from './installed_increments.ts'
import installedParallel from './installed_parallel.ts'
import installedPlumb from './installed_plumb.ts'
import likeFailed from './like_failed.ts'
import limitLoosened from './limit_loosened.ts'
import limitRange from './limit_range.ts'
import missingField from './missing_field.ts'
import operatorSide from './operator_side.ts'
import operatorTorque from './operator_torque.ts'
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
import type { Rule } from './rule.ts'
import serviceLife from './service_life.ts'
import shaftStress from './shaft_stress.ts'
import sideRoom from './side_room.ts'
import slatBow from './slat_bow.ts'
import slatPullOut from './slat_pull_out.ts'
import slatStress from './slat_stress.ts'
import slatWeight from './slat_weight.ts'
import slingAngle from './sling_angle.ts'
import slingAngleLow from './sling_angle_low.ts'
import slingLoad from './sling_load.ts'
import slingSpacing from './sling_spacing.ts'
import springFatigue from './spring_fatigue.ts'
import springHand from './spring_hand.ts'
import springInDrum from './spring_in_drum.ts'
import springIndex from './spring_index.ts'
import springLength from './spring_length.ts'
import springLost from './spring_lost.ts'
import springOnShaft from './spring_on_shaft.ts'
import springWireRange from './spring_wire_range.ts'
import springYield from './spring_yield.ts'
import sprocketTeeth from './sprocket_teeth.ts'
import surveyBetween from './survey_between.ts'
import surveyHeadroom from './survey_headroom.ts'
import surveyHeight from './survey_height.ts'
import surveyLevel from './survey_level.ts'
import surveyPlumb from './survey_plumb.ts'
import surveySideRoom from './survey_side_room.ts'
import surveySquare from './survey_square.ts'
import surveyWidth from './survey_width.ts'
import syntax from './syntax.ts'
import tradeWord from './trade_word.ts'
import unknownBlock from './unknown_block.ts'
import unknownField from './unknown_field.ts'
import unknownName from './unknown_name.ts'
import unknownUnit from './unknown_unit.ts'
import unseenCharacter from './unseen_character.ts'
import useFailed from './use_failed.ts'
import useOutside from './use_outside.ts'
import valueRange from './value_range.ts'
import windingDirection from './winding_direction.ts'
import windlockPull from './windlock_pull.ts'
import wrongDimension from './wrong_dimension.ts'
import wrongType from './wrong_type.ts'

export const RULES: readonly Rule[] = [
  // Language
  syntax,
  unknownName,
  unknownBlock,
  unknownField,
  unknownUnit,
  unseenCharacter,
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
  // Survey
  surveyWidth,
  surveyHeight,
  surveySquare,
  surveyPlumb,
  surveyLevel,
  surveyBetween,
  surveyHeadroom,
  surveySideRoom,
  // Rails and curtain
  railsBetween,
  headroom,
  sideRoom,
  engagementClearance,
  railDepth,
  fastenerSpacing,
  fastenerLoad,
  slatWeight,
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
  // Operator
  handChainPull,
  crankForce,
  operatorTorque,
  doorSpeed,
  chainEven,
  chainStrength,
  sprocketTeeth,
  doorHolds,
  operatorSide,
  limitRange,
  // Rigging and hood
  slingSpacing,
  slingLoad,
  slingAngle,
  slingAngleLow,
  hoodSupports,
  // Installed, delivery and handover
  installedBetween,
  installedParallel,
  installedPlumb,
  installedDrumLevel,
  installedIncrements,
  installedDirection,
  installedChain,
  deliveryMissing,
  deliveryDamage,
  handoverOpen,
  inspectionDue,
]

const byId: ReadonlyMap<string, Rule> = new Map(RULES.map(r => [r.id, r]))
export const ruleById = (id: string): Rule | undefined => byId.get(id)
