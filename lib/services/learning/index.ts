/** What the shop learns from its own runs, readings and weighings. */
export {
  type LearnedAnodeView,
  type LearnedClass,
  type LearnedTankView,
  shopLearned,
  type ShopLearned,
} from "./see";
